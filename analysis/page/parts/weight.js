// Weight against margin; a click or the arrow keys choose a design.
function drawWeight() {
  const { unit, cloud, front, written, recommended } = DATA.chart;
  const hover = `%{customdata}<br>%{x:,.4~g} ${plain(unit)}, margin %{y:.1%}<extra></extra>`;
  const dots = (points, way, name, more) => {
    const some = points.filter((point) => point[way] !== null);
    return {
      type: 'scatter', mode: 'markers', name, x: some.map((p) => p.mass), y: some.map((p) => p[way]),
      customdata: some.map((p) => p.id), hovertemplate: hover, ...more,
    };
  };
  const best = front.filter((point) => point.id === recommended).map((p) => ({ ...p, least: Math.min(p.hand, p.mesh) }));
  const traces = [
    dots(cloud, 'hand', 'swept designs, by hand', { marker: { size: 4, color: PALE } }),
    dots(front, 'hand', 'front, by hand', { mode: 'lines+markers', line: { color: BLUE }, marker: { size: 5, color: BLUE } }),
    dots(front, 'mesh', 'front, by mesh', { marker: { size: 10, symbol: 'square-open', color: RUST, line: { width: 2 } } }),
    dots([written], 'hand', 'as written, by hand', { marker: { size: 11, symbol: 'diamond-open', color: INK, line: { width: 2 } } }),
    dots([written], 'mesh', 'as written, by mesh', { marker: { size: 10, symbol: 'diamond', color: INK } }),
    dots(best, 'least', 'recommended, lesser margin', { marker: { size: 15, symbol: 'star', color: RED } }),
    { type: 'scatter', mode: 'markers', name: 'chosen', x: [], y: [], hoverinfo: 'skip', marker: { size: 20, symbol: 'circle-open', color: RED, line: { width: 2.5 } } },
  ];
  const margins = [...cloud, ...front].map((p) => p.hand);
  const foot = below(4, 7);
  const layout = {
    font: FONT, margin: { l: 64, r: 12, t: 12, b: room(foot.lines) }, legend: foot.legend, hovermode: 'closest', dragmode: false,
    xaxis: axis(`mass, ${unit}`, { fixedrange: true }),
    yaxis: axis('least margin', { tickformat: '+.0%', fixedrange: true, range: [Math.max(-1, Math.min(0, ...margins) - 0.05), undefined] }),
  };
  const top = Math.max(0.2, written.hand, written.mesh, ...margins, ...front.map((p) => p.mesh ?? 0)) + 0.08;
  layout.yaxis.range[1] = Math.min(top, 1.6);
  const chart = byId('weight-chart');
  Plotly.newPlot(chart, traces, layout, QUIET);
  chart.on('plotly_click', (event) => choose(event.points[0].customdata));
  chart.addEventListener('keydown', (event) => step(event, front.map((p) => p.id)));
  listeners.push((id) => ring(chart, traces.length - 1, [...front, written, ...cloud].find((p) => p.id === id)));
}

function ring(chart, number, point) {
  const margins = [point.hand, point.mesh].filter((value) => value !== null);
  Plotly.restyle(chart, { x: [margins.map(() => point.mass)], y: [margins] }, [number]);
}

function step(event, ids) {
  const way = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
  if (!way || !ids.length) return;
  event.preventDefault();
  const at = ids.indexOf(chosen);
  choose(ids[at < 0 ? 0 : Math.min(Math.max(at + way, 0), ids.length - 1)]);
}
