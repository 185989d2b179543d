"""What leaves crib to be looked at on paper or on a screen: drawings, printed sheets, spreadsheets."""
