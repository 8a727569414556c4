// What the image may serve beside its program: beside the policy, each purpose with the bytes that it takes.

/** Whether all that a purpose takes is kept. */
const serves = (row) => row.modules.every((name) => selection.kept.has(name));

/** Whether something else than a purpose that the scan was given makes a module a root. */
function isKeptOtherwise({ purpose }, name) {
  const beside = answer.otherwise.find((row) => row.purpose === purpose && row.module === name);
  return choice.on.has(name) || KEPT_BY[choice.policy].includes(beside?.standing);
}

/** Bytes that a purpose would add to the choice; of one that the scan was given, those that would go without it. */
function purposeBytes(row) {
  if (!row.chosen) return freedBy(closure([...selection.kept, ...row.modules]), selection.kept);
  const roots = [...selection.roots].filter((name) => !row.modules.includes(name) || isKeptOtherwise(row, name));
  return freedBy(selection.kept, closure(roots));
}

/** Keeps what a purpose takes, or leaves it to the policy again. */
function serve(row, wanted) {
  const [on, off] = [new Set(choice.on), new Set(choice.off)];
  for (const name of row.modules) {
    off.delete(name);
    if (wanted) on.add(name);
    else on.delete(name);
  }
  change({ on, off });
}

function showPurposes() {
  for (const row of scan.purposes.filter((each) => each.modules.length > 0)) {
    const bytes = purposeBytes(row);
    $(`purpose-${row.purpose}`).checked = serves(row);
    $(`serves-${row.purpose}`).textContent = bytes ? `${row.purpose} ${megabytes(bytes)}` : row.purpose;
    $(`serves-${row.purpose}`).dataset.bytes = bytes ?? '';
  }
}

function startPurposes() {
  $('purposes').replaceChildren(...scan.purposes.filter((row) => row.modules.length > 0).map((row) => {
    const input = el('input', { type: 'checkbox', id: `purpose-${row.purpose}` });
    input.addEventListener('change', () => serve(row, input.checked));
    return el('label', { title: row.title, for: input.id }, input, el('span', { id: `serves-${row.purpose}` }, row.purpose));
  }));
  listeners.push(showPurposes);
}
