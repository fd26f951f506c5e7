"""The routes beside each other: costs, what would turn the order, the decision and its table for the terminal."""
