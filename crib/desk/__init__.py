"""Use cases, one module per question asked at the bench. The only room that joins store with trade."""
