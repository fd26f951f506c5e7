"""What a command ends with, beside 0 and 1."""

REFUSED = 3  # an arm or a design that cannot be built, meshed or solved; the last line of stderr says why
