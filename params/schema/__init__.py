"""What a parameter file may say: the closed schema with its units."""
