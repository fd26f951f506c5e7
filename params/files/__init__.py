"""Parameter files read, checked and commented."""
