"""Names of columns of the bores' and routes' tables that need words."""

from __future__ import annotations

from analysis.tables import confidence

HEADS = {  # names that need words
    **confidence.HEADS,
    f"{confidence.READY}_if_passed": f"ready if passed, {confidence.WITH}",
    f"{confidence.READY}_if_failed": f"ready if failed, {confidence.WITH}",
    "needed_by": "part needed by",
    "chance_missed_normal": "the same, normal approximation",
    "past": "order date past",
    "cost_of_a_week": "a week later costs",
    "added_d": "days later",
    "load_limit_percent": "share of its loads until then, %",
    "Kr": "Kr: stress intensity over toughness",
    "Lr": "Lr: load over limit load",
    "ratio": "stress ratio R",
    "K_range": "range of K at the crack",
    "K_highest": "highest K",
    "K_residual": "K of residual stress",
    "load_factor": "load to failure over highest load",
    "load_factor_least": "less favourable of two meshes",
    "load_factor_band_percent": "band of that load, %",
    "years_least": "less favourable years of two meshes",
    "years_band_percent": "band of the years, %",
    "chance_at_outage_least": "less favourable chance of two meshes",
    "chance_at_next_outage_least": "the same to the next outage",
    "chance_at_outage_band_percent": "band of the chance, points",
    "acceptable_depth_least": "less favourable acceptable depth",
    "interval_years_least": "less favourable interval, years",
    "mean_late_d": "mean lateness, d",
    "chance_missed": "chance of missing the outage",
    "lift_off_share": "share of the bore that lifts off",
    "read_from_edge_mm": "peak read from the rim, mm",
    "edge_mean_MPa": "mean over that length at the rim, MPa",
    "coarser_edge_mean_MPa": "coarser mesh, mean at the rim, MPa",
    "late_once": "cost of lateness, fixed part",
    "late_per_day": "cost of lateness per day",
    "range_over_static": "range over static stress",
}
