"""What cannot be: rules across the values of a file, each told with line, value, limit and mend."""
