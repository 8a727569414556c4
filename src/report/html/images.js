// What images of the choice weigh under options of the linker: exactly as the tool found for the list as scanned; for any
// other choice that and the parts of the modules that differ, which is right but for a few thousandths.

const FIGURES = [['disk_bytes', 'On disk'], ['gzip_layer_bytes', 'gzip layer'], ['zstd_layer_bytes', 'zstd layer']];

/** Of a figure of the scanned list, what the choice makes of it; null where a part is not known. */
function changed(was, partOf) {
  if (was === undefined || was === null) return null;
  const before = new Set(scan.list);
  let bytes = was;
  for (const name of selection.list) if (!before.has(name)) bytes += partOf(name) ?? NaN;
  for (const name of scan.list) if (!selection.kept.has(name)) bytes -= partOf(name) ?? NaN;
  return Number.isNaN(bytes) ? null : Math.max(0, bytes);
}

function showImages() {
  const about = isScanned() ? '' : 'about ';
  $('images').replaceChildren(...answer.images.map((image, at) => el('tr', { role: 'row' },
    el('th', { role: 'rowheader', scope: 'row' }, image.label,
      image.arguments.length > 0 && el('code', null, image.arguments.join(' '))),
    ...FIGURES.map(([key, head], column) => {
      const bytes = changed(image[key], (name) => parts.get(name).images[at]?.[column]);
      return el('td', { role: 'cell', class: 'weight', 'data-label': head, 'data-bytes': bytes ?? '' },
        bytes === null ? '?' : `${about}${megabytes(bytes)}`);
    }))));
}

function startImages() {
  const known = answer.images.length > 0;
  $('of-images').hidden = !known;
  if (!known) return;
  $('advice').replaceChildren(...answer.advice.map((sentence) => el('li', null, sentence)));
  listeners.push(showImages);
}

