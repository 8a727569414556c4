// The image as areas: modules, then sections, and beside it what is left out, on one scale of bytes.

const GAP = 8;
const LABEL = { height: 15, letter: 6.7 };

/** Splits a rectangle among weights, biggest first, keeping pieces as square as they come: row by row along the short side. */
function split(items, box) {
  const placed = [];
  let { x, y, width, height } = box;
  let rest = items.filter((item) => item.bytes > 0).sort((a, b) => b.bytes - a.bytes || byName(a.name, b.name));
  let bytes = rest.reduce((sum, item) => sum + item.bytes, 0);
  while (rest.length > 0 && width > 0 && height > 0) {
    const scale = (width * height) / bytes;
    const side = Math.min(width, height);
    const worst = (row, sum) => {
      const depth = (sum * scale) / side;
      return Math.max(...row.map((item) => ratio(depth, (item.bytes * scale) / depth)));
    };
    const row = [];
    let sum = 0;
    for (const item of rest) {
      if (row.length > 0 && worst([...row, item], sum + item.bytes) > worst(row, sum)) break;
      row.push(item);
      sum += item.bytes;
    }
    const depth = rest.length === row.length ? (width <= height ? height : width) : (sum * scale) / side;
    let along = 0;
    for (const item of row) {
      const length = (side * item.bytes) / sum;
      placed.push(
        width <= height
          ? { item, x: x + along, y, width: length, height: depth }
          : { item, x, y: y + along, width: depth, height: length },
      );
      along += length;
    }
    if (width <= height) [y, height] = [y + depth, height - depth];
    else [x, width] = [x + depth, width - depth];
    rest = rest.slice(row.length);
    bytes -= sum;
  }
  return placed;
}

const ratio = (a, b) => Math.max(a / b, b / a);

/** Marks that tell standings apart without colour; each theme has its own inks. */
function patterns() {
  const mark = (id, size, ...shapes) =>
    svg('pattern', { id, width: size, height: size, patternUnits: 'userSpaceOnUse' },
      svg('rect', { width: size, height: size, class: `ground-${id}` }), ...shapes);
  return svg('defs', null,
    mark('uncertain', 10, svg('path', { d: 'M-2 12 12 -2M-2 2 2 -2M8 12 12 8', class: 'stroke-uncertain' })),
    mark('tolerated', 10, svg('circle', { cx: 3, cy: 3, r: 1.5, class: 'dot-tolerated' }),
      svg('circle', { cx: 8, cy: 8, r: 1.5, class: 'dot-tolerated' })),
    mark('implied', 6, svg('path', { d: 'M0 3H6', class: 'stroke-implied' })));
}

function piece({ item, x, y, width, height }, open) {
  const inset = { x: x + 1, y: y + 1, width: Math.max(width - 2, 0.5), height: Math.max(height - 2, 0.5) };
  const weight = parts.get(item.name).weight;
  const sections = split(SECTIONS.map(([name]) => ({ name, bytes: weight[name] })), inset);
  const told = SECTIONS.map(([name]) => `${name} ${megabytes(weight[name])}`).join(', ');
  const fits = (text) => text.length * LABEL.letter < width - 10;
  const label = [item.name, item.name.replace(/^jdk?a?\.?/, '…')].find(fits);
  return svg('g', { class: `piece ${item.standing}`, 'data-module': item.name, onclick: () => open(item.name) },
    svg('title', null, `${item.name}: ${megabytes(item.bytes)}, ${word(item.standing)} (${told})`),
    svg('rect', { ...inset, rx: 2, class: 'face' }),
    sections.slice(1).map((section) => svg('rect', { x: section.x, y: section.y, width: section.width,
      height: section.height, class: `section ${section.item.name}` })),
    label && height > LABEL.height + 6 ? svg('g', { class: 'label' },
      svg('rect', { x: x + 4, y: y + 4, width: label.length * LABEL.letter + 6, height: height > 40 ? 31 : 16, rx: 2 }),
      svg('text', { x: x + 7, y: y + 16 }, label),
      height > 40 ? svg('text', { x: x + 7, y: y + 30, class: 'figure' }, megabytes(item.bytes)) : null) : null);
}

/** What the image would have more with these modules and what they require. */
const added = (items) => freedBy(closure([...selection.kept, ...items.map(({ name }) => name)]), selection.kept);

/** Draws what a selection keeps and what it leaves out of all that is asked for. */
function draw(holder, selection, standingOf, open) {
  const width = Math.max(holder.clientWidth, 240);
  const height = Math.round(Math.min(Math.max(width * 0.45, 300), 460));
  const item = (name) => ({ name, bytes: bytesOf(name), standing: standingOf(name) });
  const weighed = (items) => items.filter(({ bytes }) => bytes > 0);
  const kept = weighed(selection.list.map(item));
  const out = answer.parts.filter((part) => part.standing && !selection.kept.has(part.name)).map((part) => item(part.name));
  const left = weighed(out);
  const [inside, outside] = [kept, left].map((items) => sum(items.map(({ bytes }) => bytes)));
  const wide = width > 560;
  const room = (wide ? width : height) - (left.length > 0 ? GAP : 0);
  const first = inside + outside > 0 ? (room * inside) / (inside + outside) : room;
  const boxes = wide
    ? [{ x: 0, y: 0, width: first, height }, { x: first + GAP, y: 0, width: room - first, height }]
    : [{ x: 0, y: 0, width, height: first }, { x: 0, y: first + GAP, width, height: room - first }];
  const summary = `${count(selection.list.length, 'module', 'modules')} in the image, ${megabytes(selection.bytes)}; ` +
    `${count(out.length, 'module', 'modules')} asked for and left out${out.length > 0 ? `, which would add ${megabytes(added(out))}` : ''}`;
  const picture = svg('svg', { viewBox: `0 0 ${width} ${height}`, width, height, role: 'img', 'aria-label': summary },
    patterns(),
    split(kept, boxes[0]).map((placed) => piece(placed, open)),
    svg('g', { class: 'left' }, split(left, boxes[1]).map((placed) => piece(placed, open))));
  holder.replaceChildren(picture, el('p', { class: 'hint' }, `${summary}.`));
}

