"""The calculation record: `python -m analysis.record results/ARM RECORD.pdf`, typeset from the tables under results/ARM.

It computes nothing: one section one file, each a function from `Tables` to text for the typesetter, gathered by `book`. All
text goes through `text` of `typeset`, so that nothing a user writes is taken for markup.
"""
