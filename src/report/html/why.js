// Why a module has its standing: who asks, and by which paths the program gets there.

const HURTS = {
  load: 'without the module that class cannot be loaded',
  link: 'without the module that class cannot be linked, even if the code never runs',
  run: 'without the module that instruction fails when it runs',
  introspect: 'without the module a look at the members of that class fails',
  name: 'without the module a look-up of that name finds nothing',
};

/** A member without its descriptor, which stays to be seen on demand. */
const shortMember = (member) => (member ? `.${member.split(/[(:]/)[0]}${member.includes('(') ? '()' : ''}` : '');

function evidenceItem(row) {
  return el('li', null,
    el('code', { title: visible(row.member ?? '') }, row.asker + shortMember(row.member)), ` ${row.phrase} `, el('code', null, row.target),
    el('span', { class: 'faint' }, ` (${row.standing}, ${row.stage})`),
    row.also ? el('span', { class: 'faint' }, ` and ${count(row.also, 'other place', 'other places')} in that archive`) : null,
    el('span', { class: 'place' }, row.archive || 'the launch'));
}

function pathItem(path, number) {
  const { evidence } = path;
  const hurts = evidence.standing === 'dormant' ? 'nothing that can run asks for it there'
    : HURTS[evidence.stage] ?? 'without the module nothing happens unless somebody asks';
  let archive = '';
  const steps = path.steps.map((step, at) => {
    const moved = step.archive && step.archive !== archive;
    if (step.archive) archive = step.archive;
    const final = at === path.steps.length - 1;
    return el('li', null,
      moved ? el('span', { class: 'place' }, step.archive) : null,
      el('code', null, step.who), ` ${final ? evidence.phrase : step.how}`,
      el('span', { class: 'faint' }, ` (${final ? evidence.stage : step.stage})`));
  });
  steps.push(el('li', { class: 'goal' }, el('span', { class: 'place' }, 'on the platform'), el('code', null, evidence.target)));
  return el('details', { class: 'path', open: number === 0 },
    el('summary', null, `Path ${number + 1}: ${evidence.standing}, ${count(path.steps.length, 'step', 'steps')}`),
    el('p', { class: 'faint' }, hurts), el('ol', null, ...steps));
}

/** Everything that the page knows about one module. */
function reasons(row) {
  const { name } = row;
  const part = parts.get(name);
  const evidence = rowOf.get(name)?.evidence ?? [];
  const omitted = rowOf.get(name)?.evidence_omitted ?? 0;
  const found = pathsOf.get(name);
  const listed = (names) => (names.length > 0 ? names.join(', ') : 'none');
  const weight = part.weight
    ? SECTIONS.filter(([section]) => part.weight[section] > 0).map(([section, label]) => `${megabytes(part.weight[section])} ${label}`).join('; ')
    : 'not known';
  const fact = (term, text) => [el('dt', null, term), el('dd', null, text)];
  const meaning = STANDINGS.find(([standing]) => standing === row.standing)[1];
  return el('div', { class: 'why-of' },
    el('dl', null,
      fact('means', meaning),
      fact('weighs', weight),
      fact('requires', listed(part.requires)),
      fact('required by', listed(requiredBy.get(name).filter((other) => selection.kept.has(other)))),
      row.kept && row.root && name !== BASE
        ? fact('brings alone', listed(keptOnlyBy(selection.roots, name).filter((other) => other !== name))) : []),
    evidence.length > 0 ? el('h3', null, 'Who asks for it') : null,
    evidence.length > 0 ? el('ul', { class: 'evidence' }, ...evidence.map(evidenceItem)) : null,
    omitted > 0 ? el('p', { class: 'faint' }, `and ${count(omitted, 'further reason', 'further reasons')}`) : null,
    found && found.paths.length > 0 ? el('h3', null, 'How the program gets there') : null,
    ...(found?.paths ?? []).map(pathItem),
    found?.omitted ? el('p', { class: 'faint' }, `and ${count(found.omitted, 'further path', 'further paths')}; `,
      el('code', null, `secateur explain ${name}`), ' shows more') : null);
}

