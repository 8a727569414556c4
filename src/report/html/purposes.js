// What the image may serve beside its program: beside the policy, each purpose with the bytes that it takes.

/** Whether all that a purpose takes is kept. */
const serves = (row) => row.modules.every((name) => selection.kept.has(name));

/** Bytes that go with what only this purpose would keep of the choice, or that it would add. */
function purposeBytes(row) {
  const rest = [...selection.roots].filter((name) => !row.modules.includes(name));
  const without = closure(rest);
  const adds = [...closure([...rest, ...row.modules])].filter((name) => !without.has(name));
  const bytes = adds.map(bytesOf);
  return bytes.includes(null) ? null : bytes.reduce((sum, one) => sum + one, 0);
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
