// What the answer says beside the modules: what cannot be seen, what is missing, what stood out, what to mind.

const remark = (id, title, hint, ...inside) =>
  el('section', { 'aria-labelledby': id }, el('h2', { id }, title), hint ? el('p', { class: 'hint' }, hint) : null, ...inside);

const lines = (rows, show) => paged(el('ul', { class: 'lines' }), rows, (row) => el('li', null, ...show(row)));
const rest = (number, one, many) => (number ? el('p', { class: 'faint' }, `and ${count(number, one, many)}`) : null);

function opaqueSites() {
  if (scan.opaque.length === 0) return null;
  return remark('h-opaque', 'Opaque', 'Look-ups by names that the code does not show. What they find at run time is not in the list.',
    lines(scan.opaque, (row) => [el('code', null, row.call), ` in ${count(row.places, 'place', 'places')}, first in `,
      el('code', null, row.class + shortMember(row.member)), el('span', { class: 'place' }, row.archive)]),
    rest(scan.opaque_omitted, 'more place', 'more places'));
}

function missingTypes() {
  const { removed, supplied, missing } = scan;
  return [
    removed.length > 0 && remark('h-gone', 'Gone', `Types that Java had and release ${scan.platform.release} no longer has.`,
      lines(removed, (row) => [el('code', null, row.class), ` of ${row.module}, until ${row.removed_in - 1}; named by `,
        el('code', null, row.asker), row.askers > 1 ? ` and ${count(row.askers - 1, 'more class', 'more classes')}` : ''])),
    supplied.length > 0 && remark('h-copies', 'Copies',
      "Types that the program brings itself. The platform's copies win while their module is in the image.",
      lines(supplied, (row) => [row.module, ': ', count(row.types, 'type', 'types')])),
    missing.length > 0 && remark('h-nowhere', 'Nowhere', 'Types that are in no archive and not on the platform. No list of modules brings them.',
      lines(missing, (row) => [el('code', null, row.package), `: ${count(row.types, 'type', 'types')}, such as `, el('code', null, row.example),
        ', named by ', el('code', null, row.asker)]), rest(scan.missing_omitted, 'more package', 'more packages')),
  ];
}

function findings() {
  if (scan.findings.length === 0) return null;
  const more = scan.findings_omitted.map(({ code, count: number }) => `${count(number, 'more', 'more')} of ${code}`).join(', ');
  return remark('h-findings', 'Findings', 'What stood out in the input, most severe first.',
    lines(scan.findings, (row) => [el('b', { class: `severity ${row.severity}` }, row.severity), ' ', row.code, ': ', row.message,
      el('span', { class: 'place' }, row.place)]), more ? el('p', { class: 'faint' }, `and ${more}`) : null);
}

function launch() {
  const asking = scan.launch.filter((row) => row.implies !== 'nothing');
  if (asking.length === 0) return null;
  return remark('h-launch', 'Options of the launch',
    `Those that ask for modules, of ${count(scan.launch.length, 'option', 'options')} given. A hint bears their absence.`,
    lines(asking, (row) => [el('code', null, row.option), `: ${row.implies} `, row.modules.join(', '),
      row.without ? `; without: ${row.without}` : '', el('span', { class: 'place' }, row.from)]));
}

const cautions = () => remark('h-mind', 'Before this goes anywhere', null,
  el('ul', null, ...scan.cautions.map((caution) => el('li', null, caution))));

/** What the answer rests on. */
function basis() {
  const { platform, totals, weight } = scan;
  const fact = (term, ...texts) => [el('dt', null, term), ...texts.map((text) => el('dd', null, text))];
  const entry = (row) => `${row.class}, from ${row.reason}`;
  const input = (row) => `${row.path} (${row.kind}): ${count(row.archives, 'archive', 'archives')}, ${count(row.classes, 'class', 'classes')}`;
  const log = (row) => `${row.path}: ${count(row.loads, 'class', 'classes')} loaded, of ${count(row.modules.length + 1, 'module', 'modules')} of the platform`;
  const list = (row) => `${row.path}: classes looked up by name, ` + [[row.of_program, 'of the program'],
    [row.of_platform, 'of the platform'], [row.unknown, 'of neither']]
    .filter(([number]) => number > 0).map(([number, whose]) => `${grouped(number)} ${whose}`).join(', ');
  const some = (rows, say, one, many) => [...rows.slice(0, 4).map(say),
    ...(rows.length > 4 ? [`and ${count(rows.length - 4, one, many)}`] : [])];
  const release = `release ${platform.release}, because ${platform.reason}`;
  $('for').replaceChildren(visible(`For ${release}, by policy ${scan.policy}. Weights: ${weight.basis}.`));
  $('basis').replaceChildren(
    ...fact('modules', `from the ${platform.source}`, ...platform.notes),
    ...(weight.unknown.length > 0 ? fact('weights', `none is known of ${weight.unknown.join(', ')}`) : []),
    ...fact('read', ...some(scan.inputs, input, 'more input', 'more inputs')),
    ...fact('starts', ...(scan.entry_points.length > 0 ? some(scan.entry_points, entry, 'more entry point', 'more entry points')
      : [scan.findings.some((finding) => finding.code === 'unclear-start')
        ? 'several archives name a start and nothing says which is meant, so all that is public may be where it starts: name it by --entry'
        : 'no entry point is named, so all that is public may be where it starts'])),
    ...(scan.listed.length > 0 ? fact('names', ...some(scan.listed, list, 'more list', 'more lists')) : []),
    ...(scan.logs.length > 0 ? fact('saw', ...some(scan.logs, log, 'more log', 'more logs')) : []),
    ...fact('reached', `${grouped(totals.classes_reached)} of ${count(totals.classes, 'class', 'classes')} and ` +
      `${grouped(totals.methods_reached)} of ${count(totals.methods, 'method', 'methods')}`));
}

function startRemarks() {
  if (!scan.complete) {
    $('alarm').hidden = false;
    $('alarm').textContent = 'Incomplete: part of the input could not be read or judged, so this list may lack modules. The findings below say which part.';
  }
  basis();
  $('remarks').replaceChildren(...[launch(), ...byArchive(), opaqueSites(), ...missingTypes(), findings(), cautions()].filter(Boolean));
  $('foot').textContent = `Written by secateur ${answer.secateur}. The page loads nothing and sends nothing.`;
}

