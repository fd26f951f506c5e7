"""The pieces of a deposited part: joints, envelope of the cell, the plan of the cuts, the table of pieces."""
