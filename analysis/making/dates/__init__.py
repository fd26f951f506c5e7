"""When each route is ready: network of tasks in working days, three-point durations, sampling, chances against the outage."""
