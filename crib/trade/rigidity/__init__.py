"""How set-up and cut push each other: tool pressure, stiffness, chatter, what to change."""
