// What images of the choice weigh under options of the linker, as `weigh` would say of the same list.

const FIGURES = [['disk', 'On disk'], ['gzip', 'gzip layer'], ['zstd', 'zstd layer']];

function showImages() {
  const images = answer.images.map((image) => [image, weigh(selection.list, image)]).filter(([, bytes]) => bytes !== null);
  $('of-images').hidden = images.length === 0;
  $('images').replaceChildren(...images.map(([image, bytes]) => el('tr', { role: 'row' },
    el('th', { role: 'rowheader', scope: 'row' }, image.label,
      image.arguments.length > 0 && [' ', el('code', null, image.arguments.join(' '))]),
    ...FIGURES.map(([key, head]) => el('td', { role: 'cell', class: 'weight', 'data-label': head, 'data-bytes': bytes[key] ?? '' },
      megabytes(bytes[key]))))));
}

function startImages() {
  $('for-scanned').hidden = answer.advice.length === 0;
  $('advice').replaceChildren(...answer.advice.map((sentence) => el('li', null, sentence)));
  listeners.push(showImages);
}
