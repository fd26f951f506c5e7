"""One choice carried through: a swept design or a route's best becomes the next revision of the arm's parameter file."""
