// The choice that is tried out, and what follows from it for the sentence on top, the list and the launch.

const scanned = () => ({ policy: scan.policy, on: new Set(answer.with), off: new Set(answer.without) });
let choice = scanned();
let selection = select(choice);
let form = 'list';
const listeners = [];

/** The standing of a module under the choice. */
function standingOf(name) {
  const { standing } = parts.get(name);
  return standing ?? (selection.kept.has(name) ? 'implied' : 'none');
}

/** Whether the choice as a whole is the scan's. */
function isScanned() {
  const was = scanned();
  const same = (a, b) => a.size === b.size && [...a].every((name) => b.has(name));
  return was.policy === choice.policy && same(was.on, choice.on) && same(was.off, choice.off);
}

function change(next) {
  choice = { ...choice, ...next };
  selection = select(choice);
  for (const listener of listeners) listener();
}

/** Keeps a module or leaves it out; what the policy does by itself needs no wish. */
function turn(name, keep) {
  const [on, off] = [new Set(choice.on), new Set(choice.off)];
  on.delete(name);
  off.delete(name);
  const plain = select({ policy: choice.policy, on, off });
  if (plain.kept.has(name) !== keep) (keep ? on : off).add(name);
  change({ on, off });
}

/** As the text on a terminal says it. */
function headline() {
  const whole = scan.weight.platform_bytes;
  const weight = selection.bytes === null
    ? '; what they weigh is not known.'
    : whole === undefined ? `: ${megabytes(selection.bytes)} on disk.`
      : `: ${megabytes(selection.bytes)} on disk instead of ${megabytes(whole)}.`;
  return `Keep ${selection.list.length} of the ${scan.platform.modules} modules of Java ${scan.platform.release}${weight}`;
}

/** The difference to what was scanned, in words. */
function difference() {
  if (isScanned()) return 'This is the choice that was scanned.';
  const before = new Set(scan.list);
  const added = selection.list.filter((name) => !before.has(name));
  const gone = scan.list.filter((name) => !selection.kept.has(name));
  const was = scan.weight.selection_bytes;
  const bytes = selection.bytes === null || was === undefined ? null : selection.bytes - was;
  const said = [
    added.length > 0 ? `adds ${added.join(', ')}` : null,
    gone.length > 0 ? `leaves out ${gone.join(', ')}` : null,
    bytes ? `${megabytes(Math.abs(bytes))} ${bytes > 0 ? 'more' : 'less'}` : null,
  ].filter(Boolean);
  return `Against the scan this choice ${said.length > 0 ? said.join('; ') : 'changes nothing in the list'}.`;
}

/** A word of a shell's command line. */
const quoted = (text) => (/^[\w@%+=:,./-]+$/.test(text) ? text : `'${text.replaceAll("'", "'\\''")}'`);

const forms = {
  list: () => selection.list.join(','),
  link: () => `jlink --output runtime --add-modules ${selection.list.join(',')}`,
  scan: () => [
    'secateur scan', ...answer.said.map(quoted), `--policy ${choice.policy}`,
    choice.on.size > 0 ? `--with ${[...choice.on].sort(byName).join(',')}` : null,
    choice.off.size > 0 ? `--without ${[...choice.off].sort(byName).join(',')}` : null,
    ...scan.inputs.filter((input) => input.kind !== 'agent of the launch').map((input) => quoted(input.path)),
  ].filter(Boolean).join(' '),
};

/** To the clipboard; where pages from a file may not, by way of a selection. */
async function toClipboard(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    const range = document.createRange();
    range.selectNodeContents($('list'));
    getSelection().removeAllRanges();
    getSelection().addRange(range);
    return document.execCommand('copy');
  }
}

function showChoice() {
  $('headline').textContent = headline();
  $('headline').dataset.bytes = selection.bytes ?? '';
  $('change').textContent = visible(difference());
  $('reset').disabled = isScanned();
  const policy = $(`policy-${choice.policy}`);
  if (policy) policy.checked = true;
  $('conflicts').hidden = selection.conflicts.length === 0;
  $('conflicts').replaceChildren(...selection.conflicts.map(([name, by]) => el('li', null,
    `${name} cannot be left out: it is required by ${by && by.length > 1 ? by.slice(0, -1).reverse().join(', required by ') : 'every program'}. `,
    el('button', { type: 'button', onclick: () => turn(name, true) }, `Keep ${name}`))));
  // A line may break after a comma, and what is selected stays the same text.
  $('list').replaceChildren(...forms[form]().split(/(?<=,)/).flatMap((piece) => [visible(piece), el('wbr')]));
  $('copied').textContent = '';
  $('launch').hidden = selection.late.length === 0;
  $('launch').replaceChildren('In the image, yet not resolved unless the launch names it as well; start with ',
    el('code', null, `java --add-modules ${selection.late.join(',')}`));
}

function startSwitches() {
  radios($('policies'), 'policy', [
    ['lean', 'lean', 'needed modules, what weighs little, and what the program’s own part asks for'],
    ['safe', 'safe', 'needed and uncertain modules'],
    ['whole', 'whole', 'all modules that anything names'],
  ], choice.policy, (policy) => change({ policy }));
  radios($('forms'), 'form', [
    ['list', 'list', 'comma-separated, as --add-modules takes it'],
    ['link', 'link command', 'for a JDK of that release'],
    ['scan', 'scan command', 'gives this choice again'],
  ], form, (value) => {
    form = value;
    showChoice();
  });
  $('reset').addEventListener('click', () => change(scanned()));
  $('copy').addEventListener('click', async () => {
    $('copied').textContent = (await toClipboard(forms[form]())) ? 'Copied' : 'Select the text and copy it by hand';
  });
  listeners.push(showChoice);
}

