// The table of modules: sorted, filtered, one switch a row. Rows that a filter leaves out are not in the document.

const FATES = [
  ['asked', 'kept or asked for'], ['kept', 'kept'], ['left', 'asked for and left out'], ['all', 'every module of the platform'],
];
const COLUMNS = [
  ['keep', 'Keep', null],
  ['name', 'Module', (row) => row.name],
  ['standing', 'Standing', (row) => rank(row.standing)],
  ['weight', 'Weight', (row) => -(row.bytes ?? -1)],
  ['frees', 'Frees', (row) => -(row.frees ?? -1)],
  ['why', 'Why', null],
  ['by', 'Brought by', (row) => row.by],
];
const view = { find: '', fate: 'asked', standing: 'any', column: 'standing', down: false };
const opened = new Set();

/** Everything that a row shows, for the choice of the moment. */
function rowFor(part) {
  const { name } = part;
  const kept = selection.kept.has(name);
  const root = selection.roots.has(name);
  const by = requiredBy.get(name).filter((other) => selection.kept.has(other));
  const implied = kept && !root;
  return {
    name, kept, root,
    standing: standingOf(name),
    bytes: bytesOf(name),
    frees: kept && root ? frees(name) : null,
    why: name !== BASE && implied ? `required by ${by.join(', ')}`
      : part.reason ?? (choice.on.has(name) ? 'asked for by --with' : 'nothing asks for it'),
    by: name === BASE ? '' : implied ? by.join(', ') : bringers(name),
  };
}

/** Bytes that go where a module is no root any more, with all that only it keeps. */
function frees(name) {
  const gone = new Set(keptOnlyBy(selection.roots, name));
  return freedBy(selection.list, selection.list.filter((other) => !gone.has(other)));
}

/** Archives that ask for a module, the one with the strongest evidence first. */
function bringers(name) {
  const archives = [...new Set((rowOf.get(name)?.evidence ?? []).map((row) => archiveName(row.archive)))];
  return archives.length > 2 ? `${archives[0]} and ${count(archives.length - 1, 'more', 'more')}` : archives.join(', ');
}

function isShown(row) {
  const fate = {
    asked: row.kept || parts.get(row.name).standing, kept: row.kept, left: !row.kept && parts.get(row.name).standing, all: true,
  }[view.fate];
  const text = `${row.name} ${row.why} ${row.by}`.toLowerCase();
  return fate && (view.standing === 'any' || view.standing === row.standing) && text.includes(view.find);
}

/** By the column chosen; then by standing, weight and name. */
function order(a, b) {
  const key = COLUMNS.find(([column]) => column === view.column)[2];
  const [x, y] = [key(a), key(b)];
  const first = x < y ? -1 : Number(x > y);
  return (view.down ? -first : first) || rank(a.standing) - rank(b.standing) || (b.bytes ?? 0) - (a.bytes ?? 0) || byName(a.name, b.name);
}

function tableRow(row) {
  const open = opened.has(row.name);
  const keep = el('input', { type: 'checkbox', id: `keep-${row.name}`, 'aria-label': `Keep ${row.name}`, 'data-module': row.name });
  keep.checked = row.kept;
  keep.disabled = row.name === BASE;
  keep.addEventListener('change', () => {
    turn(row.name, keep.checked);
    $(`keep-${row.name}`)?.focus();
  });
  const why = el('button', { type: 'button', class: 'open', id: `why-${row.name}`, 'aria-expanded': String(open), onclick: () => {
    if (!opened.delete(row.name)) opened.add(row.name);
    showModules();
    $(`why-${row.name}`)?.focus();
  } }, row.name);
  const cell = (kind, label, ...inside) => el('td', { role: 'cell', class: kind, 'data-label': label }, ...inside);
  const line = el('tr', { role: 'row', class: `module ${row.kept ? 'kept' : 'out'}`, 'data-module': row.name },
    cell('keep', 'Keep', keep),
    el('th', { role: 'rowheader', scope: 'row', class: 'name' }, why),
    cell('standing', 'Standing', badge(row.standing)),
    cell('weight', 'Weight', megabytes(row.bytes)),
    el('td', { role: 'cell', class: 'frees', 'data-label': 'Frees', 'data-bytes': row.frees ?? '' },
      row.root && row.name !== BASE ? megabytes(row.frees) : ''),
    cell('why', 'Why', row.why),
    cell('by', 'Brought by', row.by));
  if (!open) return [line];
  const inside = el('td', { role: 'cell', colspan: COLUMNS.length }, reasons(row));
  return [line, el('tr', { role: 'row', class: 'reasons' }, inside)];
}

function showModules() {
  const rows = answer.parts.map(rowFor).filter(isShown).sort(order);
  $('rows').replaceChildren(...rows.flatMap(tableRow));
  $('found').textContent = count(rows.length, 'module', 'modules');
  $('heads').replaceChildren(...COLUMNS.map(([column, label, key]) => {
    const sorted = view.column === column ? (view.down ? 'descending' : 'ascending') : null;
    const sort = () => {
      view.down = view.column === column && !view.down;
      view.column = column;
      showModules();
      $(`sort-${column}`).focus();
    };
    return el('th', { role: 'columnheader', scope: 'col', class: column, 'aria-sort': sorted },
      key ? el('button', { type: 'button', id: `sort-${column}`, onclick: sort }, label) : label);
  }));
}

/** Opens a module's reasons and goes there. */
function openModule(name) {
  opened.add(name);
  if (![...$('rows').children].some((row) => row.dataset.module === name)) Object.assign(view, { find: '', fate: 'all', standing: 'any' });
  showFilters();
  showModules();
  $(`why-${name}`).focus({ preventScroll: true });
  $(`why-${name}`).scrollIntoView({ block: 'center' });
}

function showFilters() {
  $('find').value = view.find;
  $('fate').value = view.fate;
  $('standing').value = view.standing;
}

function startModules() {
  $('fate').append(...FATES.map(([value, label]) => el('option', { value }, label)));
  $('standing').append(...[['any', 'any'], ...STANDINGS.map(([standing]) => [standing, word(standing)])]
    .map(([value, label]) => el('option', { value }, label)));
  showFilters();
  $('find').addEventListener('input', () => {
    view.find = $('find').value.trim().toLowerCase();
    showModules();
  });
  for (const name of ['fate', 'standing']) {
    $(name).addEventListener('change', () => {
      view[name] = $(name).value;
      showModules();
    });
  }
  listeners.push(showModules);
}

