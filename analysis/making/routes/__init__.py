"""Each route on the arm: limits and materials, its own sweep, the design it is best at, mass before machining, life and flaw."""
