# The designs that are meshed, known once the sweep has been judged.
import csv


def confirmed(wildcards):
    """Summaries of the chosen designs, known once the sweep has been judged."""
    with open(checkpoints.choose.get(**wildcards).output[0], newline="") as table:
        return [f"results/{wildcards.arm}/designs/{row['id']}/summary.json" for row in csv.DictReader(table)]
