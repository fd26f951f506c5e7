"""The caution that stands on everything that gives a strength, a life or a date."""

CAUTION = (
    "Calculation aid. Results are for review by a licensed engineer under the local code; "
    "not a release for manufacture or service."
)
