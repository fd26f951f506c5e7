// Elements and texts: nothing from a file is ever read as HTML.
const byId = (id) => document.getElementById(id);

function make(tag, text, attributes = {}) {
  const element = document.createElement(tag);
  if (text !== undefined) element.textContent = text;
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  return element;
}

// The chart library reads some tags in labels: they are shown as they stand.
const plain = (text) => String(text).replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

function sheet(table, name) {
  const around = make('div', undefined, { class: 'sheet', role: 'region', 'aria-label': name, tabindex: '0' });
  const element = around.appendChild(make('table'));
  fill(element, table.heads, table.rows, table.marks);
  return around;
}

function fill(element, heads, rows, marks = []) {
  const width = (text) => ({ class: text.length > 40 ? 'l' : text.length > 12 ? 'm' : 's' });
  const kind = ([, numeric]) => (numeric ? { class: 'n' } : {});
  const head = make('thead').appendChild(make('tr')).parentNode;
  heads.forEach((one) => head.firstChild.append(make('th', one[0], { scope: 'col', ...kind(one) })));
  const body = make('tbody');
  rows.forEach((row, number) => {
    const line = body.appendChild(make('tr', undefined, marks[number] ? { class: marks[number] } : {}));
    row.forEach((text, column) => line.append(make('td', text, { 'data-head': heads[column][0], ...(heads[column][1] ? { class: 'n' } : width(text)) })));
  });
  element.replaceChildren(head, body);
}

const INK = '#20262c', BLUE = '#1f4e79', RUST = '#b3561e', GREEN = '#4a7a3a', GREY = '#5a626a', RED = '#a3201a', PALE = '#b9c0c7';
const FONT = { family: 'system-ui, "DejaVu Sans", sans-serif', size: 13, color: INK };
const QUIET = { displayModeBar: false, responsive: true };
const narrow = () => window.innerWidth < 760;
// A legend at the foot, clear of the axis title: lines of it on a wide and on a narrow screen.
const below = (wide, small) => ({ lines: narrow() ? small : wide, legend: { orientation: 'h', yref: 'container', y: 0, yanchor: 'bottom', x: 0, font: { size: 12 } } });
const room = (lines) => 56 + 19 * lines;
const axis = (title, more = {}) => ({ title: { text: plain(title), standoff: 8 }, gridcolor: '#e6e9ec', zerolinecolor: INK, zerolinewidth: 1, ...more });
