"""When the part is there: one route's tasks on their calendars against the outage.

A route file (params/routes) holds the tasks with low, likely and high durations, an outage file (params/outages) the dates.
`calendar` turns days of work into moments and back, for one duration or many thousands at once. `network` runs forward
and backward through the tasks. `threepoint` gives the distributions, `sampling` draws durations that share causes, `risk`
judges the drawn networks, `deposition` turns pieces into hours and days on cells, `cost` adds up ranges. `dates` is the
command that writes tasks.csv, ready.csv and dates.csv; `gantt` draws what stands in them.

Time inside is counted in calendar days from the midnight on which the day of the order begins.
"""
