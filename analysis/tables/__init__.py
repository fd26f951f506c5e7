"""Tables of the steps: files read and written (`files`), quantities and columns with units, the overview for the terminal."""
