// Elements from data. Foreign text only ever becomes text nodes and attribute values.

const SVG = 'http://www.w3.org/2000/svg';
const $ = (id) => document.getElementById(id);

function fill(node, properties, children) {
  for (const [name, value] of Object.entries(properties ?? {})) {
    if (name.startsWith('on')) node.addEventListener(name.slice(2), value);
    else if (value === true) node.setAttribute(name, '');
    else if (value !== false && value !== null && value !== undefined) node.setAttribute(name, value);
  }
  for (const child of children.flat()) {
    if (child !== null && child !== undefined && child !== false) node.append(child instanceof Node ? child : visible(child));
  }
  return node;
}

const el = (tag, properties, ...children) => fill(document.createElement(tag), properties, children);
const svg = (tag, properties, ...children) => fill(document.createElementNS(SVG, tag), properties, children);

/** A figure and its words, so that a standing is never told by colour alone. */
const badge = (standing) => el('span', { class: `badge ${standing}` }, el('i', { 'aria-hidden': 'true' }), word(standing));

/** A choice of one of several words. */
function radios(holder, name, choices, chosen, onchange) {
  holder.replaceChildren(
    ...choices.map(([value, label, title]) => {
      const input = el('input', { type: 'radio', name, value, id: `${name}-${value}` });
      input.checked = value === chosen;
      input.addEventListener('change', () => onchange(value));
      return el('label', { title, for: input.id }, input, el('span', null, label));
    }),
  );
}

/** The first rows of a list, and a button for the rest of it. */
function paged(list, rows, show, size = 20) {
  const more = el('button', { type: 'button', class: 'more' });
  let shown = 0;
  const grow = () => {
    list.append(...rows.slice(shown, shown + size).map(show));
    shown = Math.min(shown + size, rows.length);
    more.textContent = `Show ${Math.min(size, rows.length - shown)} more of ${grouped(rows.length)}`;
    if (shown >= rows.length) more.remove();
  };
  more.addEventListener('click', grow);
  const holder = el('div', null, list, more);
  grow();
  return holder;
}

