// The chosen design: its panel, and what follows a change of it.
const listeners = [];
let chosen = DATA.chart.recommended || 'as-written';

function choose(id) {
  if (!(id in DATA.panels)) return;
  chosen = id;
  showPanel(DATA.panels[id]);
  document.querySelectorAll('[data-choose]').forEach((one) => one.setAttribute('aria-pressed', String(one.dataset.choose === id)));
  listeners.forEach((listener) => listener(id));
}

function showPanel(panel) {
  const box = byId('chosen');
  box.replaceChildren(make('h3', panel.title, { id: 'chosen-title' }));
  const list = box.appendChild(make('dl'));
  const line = (name, text) => list.append(make('dt', name), make('dd', text));
  line('mass', panel.mass);
  panel.sizes.forEach(([name, text]) => line(name, text));
  panel.margins.forEach(([way, margin, governing]) => line(`margin ${way}`, `${margin}: ${governing}`));
  if (panel.note) box.append(make('p', panel.note, { class: 'note' }));
  if (panel.still) box.append(make('img', undefined, { src: panel.still, alt: `Equivalent stress of ${panel.title}` }));
  const below = panel.checks ? [make('h3', `Checks: ${panel.title}`), sheet(panel.checks, `Checks: ${panel.title}`)] : [];
  below.slice(1).forEach((one) => one.classList.add('tall'));
  byId('chosen-checks').replaceChildren(...below);
}
