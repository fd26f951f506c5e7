"""The one confidence of `ready` and `order by` wherever people see a date; the files have further ones beside it."""

from __future__ import annotations

SHARES = (50, 80, 90)  # percent: confidence of the dates in the files
EVEN, SURE = (
    50,
    90,
)  # percent: those that people see; a single date of `ready` or `order by` is always that of SURE
READY_EVEN, READY = f"p{EVEN}_ready", f"p{SURE}_ready"
ORDER_EVEN, ORDER = f"latest_order_p{EVEN}", f"latest_order_p{SURE}"
WITH = f"{SURE} % confidence"
HEADS = {
    READY_EVEN: f"ready, {EVEN} % confidence",
    READY: f"ready, {WITH}",
    ORDER_EVEN: f"order by, {EVEN} % confidence",
    ORDER: f"order by, {WITH}",
    f"float_p{EVEN}_d": f"days left to order, {EVEN} % confidence",
    f"float_p{SURE}_d": f"days left to order, {WITH}",
}
