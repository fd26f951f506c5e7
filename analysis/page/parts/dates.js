// Tasks of each route over the calendar with the outage, and the chance of being ready by each day.
function drawDates() {
  document.querySelectorAll('[data-route]').forEach((place) => drawRoute(place, DATA.routes[Number(place.dataset.route)]));
}

const dayAfter = (text) => new Date(Date.parse(text) + 86400000).toISOString().slice(0, 10);
const days = (from, to) => Date.parse(dayAfter(to)) - Date.parse(from);

function drawRoute(place, route) {
  const planned = route.tasks.filter((task) => task.early_start);
  const bars = (some, name, color) => ({
    type: 'bar', orientation: 'h', name, y: some.map((task) => route.tasks.indexOf(task)), base: some.map((task) => task.early_start),
    x: some.map((task) => days(task.early_start, task.early_finish)), marker: { color }, width: 0.55, xaxis: 'x', yaxis: 'y',
    customdata: some.map((task) => `${task.early_start} to ${task.early_finish}`), hovertemplate: '%{customdata}<extra></extra>',
  });
  const drawn = route.tasks.filter((task) => task.p90_finish);
  const inside = route.tasks.filter((task) => task.critical === route.inside);
  const sure = { type: 'scatter', mode: 'markers', name: route.with, x: drawn.map((task) => dayAfter(task.p90_finish)),
    y: drawn.map((task) => route.tasks.indexOf(task)), marker: { symbol: 'line-ns-open', size: 12, color: INK, line: { width: 2 } }, xaxis: 'x', yaxis: 'y' };
  const chance = { type: 'scatter', mode: 'lines', name: 'chance of being ready', x: route.ready.map(([day]) => dayAfter(day)),
    y: route.ready.map(([, share]) => share), line: { shape: 'hv', color: BLUE, width: 2 }, xaxis: 'x', yaxis: 'y2' };
  const open = { type: 'rect', xref: 'x', yref: 'paper', x0: route.opens, x1: dayAfter(route.closes), y0: 0, y1: 1, fillcolor: '#f3dcd6', line: { width: 0 }, layer: 'below' };
  const needed = { type: 'line', xref: 'x', yref: 'paper', x0: dayAfter(route.needed), x1: dayAfter(route.needed), y0: 0, y1: 1, line: { color: '#b3261e', width: 1, dash: 'dash' } };
  const foot = below(1, 5);
  const height = 190 + room(foot.lines) + 24 * route.tasks.length;
  const split = 150 / (height - 30 - room(foot.lines));
  const short = (text) => (narrow() && text.length > 20 ? `${text.slice(0, 19)}\u2026` : text.length > 60 ? `${text.slice(0, 59)}\u2026` : text);
  Plotly.newPlot(place, [
    bars(planned.filter((task) => task.critical === 'yes'), 'critical', BLUE),
    bars(planned.filter((task) => task.critical === 'no'), 'with float', '#8a939b'),
    ...(inside.length ? [bars(inside, route.inside, '#b0703a')] : []), sure, chance,
  ], {
    font: FONT, height, margin: { l: 60, r: 12, t: 30, b: room(foot.lines) }, dragmode: false, barmode: 'overlay', shapes: inside.length ? [open, needed] : [open], legend: foot.legend,
    annotations: [{ x: route.opens, y: 1, xref: 'x', yref: 'paper', yanchor: 'bottom', xanchor: 'left', showarrow: false, text: inside.length ? 'outage (dashed: part needed)' : 'outage' }],
    xaxis: { type: 'date', gridcolor: '#e6e9ec', anchor: 'y2', fixedrange: true, tickangle: 0, tickformat: '%b\n%Y', nticks: narrow() ? 4 : 10 },
    yaxis: { domain: [split + 0.04, 1], tickvals: route.tasks.map((_, number) => number), ticktext: route.tasks.map((task) => plain(short(task.title))),
      autorange: false, range: [route.tasks.length - 0.4, -0.6], automargin: true, fixedrange: true },
    yaxis2: { domain: [0, split], tickformat: '.0%', range: [0, 1.05], gridcolor: '#e6e9ec', fixedrange: true, title: { text: 'chance ready' } },
  }, QUIET);
}
