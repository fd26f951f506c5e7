"""Files that one step hands to the next, as frozen models: each states its fields, units and what may be empty, once."""
