// Who brings what, where the scan was asked for it: figures as the tool found them, for the list as scanned. Switches above
// change nothing here.

/** A table with one row a thing: its name, figures, and the modules that they are of. */
function shares(label, heads, rows) {
  const numeric = (at) => (at > 0 && at < heads.length - 1 ? 'weight' : null);
  const cell = (text, at) => (at === 0 ? el('th', { role: 'rowheader', scope: 'row' }, text)
    : el('td', { role: 'cell', class: numeric(at), 'data-label': text === '' ? null : heads[at] }, text));
  const head = el('thead', { role: 'rowgroup' }, el('tr', { role: 'row' },
    ...heads.map((text, at) => el('th', { role: 'columnheader', scope: 'col', class: numeric(at) }, text))));
  const body = el('tbody', { role: 'rowgroup' });
  const table = el('table', { role: 'table', class: 'shares', 'aria-label': label }, head);
  const holder = paged(body, rows, (row) => el('tr', { role: 'row' }, ...row.map(cell)));
  // The rows stand in the table, the button for more of them below it.
  table.append(body);
  holder.prepend(table);
  return holder;
}

const members = (share) => share.modules.join(', ');

/** What goes with an archive: its own modules by name, the others by number. */
function going(row) {
  const others = row.goes.modules.length - row.own.modules.length;
  return [
    members(row.own),
    others > 0 ? `${count(others, 'module', 'modules')} that nearer archives bring` : '',
    row.comes ? `${megabytes(row.comes.bytes)} comes: ${members(row.comes)}` : '',
  ].filter((part) => part !== '').join('; ');
}

function byArchive() {
  const all = scan.by_archive;
  if (!all) return [];
  const rows = all.archives.map((row) => [row.archive, megabytes(row.goes.bytes), megabytes(row.own.bytes), going(row)]);
  if (all.omitted) rows.push([count(all.omitted, 'more archive', 'more archives'), '', megabytes(all.omitted_own_bytes), '']);
  rows.push(['shared', '', megabytes(all.shared.bytes), all.shared.modules.length > 0 ? `goes with no single archive: ${members(all.shared)}` : '']);
  rows.push(['always', '', megabytes(all.always.bytes), `stays without any archive: ${members(all.always)}`]);
  rows.push(['total', '', megabytes(all.total_bytes), '']);
  const others = all.without_effect > 0 ? ` ${count(all.without_effect, 'archive', 'archives')} could go and change nothing.` : '';
  const costs = all.uncertain.map((row) => [row.module, megabytes(row.goes.bytes), row.goes.modules.length > 0
    ? members(row.goes) : 'it stays, since a kept module requires it']);
  return [
    remark('h-archives', 'Who brings what', 'What would go from the list as scanned if that archive alone went from the program, with what is in it. ' +
      `A module is the own part of the archive nearest to it; own parts, shared and always add up to the total.${others}`,
      shares('Who brings what', ['Archive', 'Goes', 'Own', 'Modules'], rows)),
    costs.length > 0 && remark('h-costs', 'What doubt costs', 'What would go if an uncertain module alone were not kept, with what only it requires.',
      shares('What doubt costs', ['Module', 'Goes', 'Modules'], costs)),
  ];
}
