"""The hand calculation written out for a reader with a pocket calculator: `working` is the arithmetic and its digits, `checks`,
`statics` and `sections` say which lines, `files` writes workings.json. Whatever prints them only sets them in type."""
