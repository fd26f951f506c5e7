"""Pictures of tables and fields that other steps wrote; nothing is computed here. `python -m analysis.pictures DIR [NAME...]` draws
those of one arm, each further module those of one table.
"""
