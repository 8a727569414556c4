// What images of a choice weigh: `src/weight/image.rs` and `src/weight/generated.rs` step by step, by the numbers of
// `src/weight/model.rs`; the tests compare the two. All is whole numbers: a quotient is cut off as it is there, and no
// product of bytes of a platform comes near 2^53.

const { model } = answer;
const places = new Map(answer.parts.map((part, place) => [part.name, place]));

/** `image::FRAME`, `image::FOUR_BYTES`, what stands before the modules' names, `image::far_places`, `generated::ROW`. */
const FRAME = 28 + 8 + 2 * (8 + 13) + 9 + 10 + 8 + 9 + 7 + 4;
const FOUR_BYTES = 2 ** 24;
const FIRST_NAME = 7 + 'java.base0module-info0'.length;
const FAR = 2 ** 21;
const ROW = 8 + 1 + 4 + 4 + 4 + 2 + 4;
const LAYERS = ['gzip', 'zstd'];

const length = (text) => new TextEncoder().encode(text).length;
const sum = (numbers) => numbers.reduce((total, number) => total + number, 0);
/** A part of something, cut off; of nothing nothing. */
const share = (of, part, all) => (all > 0 ? Math.floor((of * part) / all) : 0);
const least0 = (number) => Math.max(0, number);
/** The sum of what may be unknown, which is then unknown. */
const total = (numbers) => (numbers.includes(null) || numbers.includes(undefined) ? null : sum(numbers));

/** Modules that cannot be weighed. */
const unweighed = (list) => list.filter((name) => !model?.modules[places.get(name)]);

/** Bytes of a number in a location, with its kind (`names::attribute`). */
function attribute(value) {
  let bytes = 0;
  for (let rest = value; rest > 0; rest = Math.floor(rest / 256)) bytes += 1;
  return value === 0 ? 0 : 1 + bytes;
}

/** Bytes that were counted for several of the modules and are there once: rows of bytes and places. */
function twice(sets, chosen) {
  let bytes = 0;
  for (const [each, ...members] of sets) bytes += each * least0(members.filter((place) => chosen.has(place)).length - 1);
  return bytes;
}

/** How many entries have a place among the contents that takes a fourth byte. */
function entriesBehind(start, bytes, entries) {
  const below = Math.min(least0(FOUR_BYTES - start), bytes);
  return bytes > 0 ? entries - share(entries, below, bytes) : 0;
}

/** The classes that the linker generates (`generated::classes`). */
function generated(list) {
  const { class: plain, map, map_with_default: withDefault, map_with_main: withMain } = model.generated;
  const of = (name) => model.modules[places.get(name)];
  const described = (names) => Math.floor((plain + sum(names.map((name) => of(name).description)) + 5) / 10);
  const kept = new Set(list);
  const all = { entries: 0, bytes: 0, index: 0 };
  const add = (bytes, name) => {
    all.entries += 1;
    all.bytes += bytes;
    all.index += ROW + name.length + 1;
  };
  add(described(list), 'SystemModules$all');
  const byDefault = resolved(kept, list.filter((name) => of(name).root));
  let bytes = map;
  if (byDefault.size < kept.size) {
    add(described([...byDefault]), 'SystemModules$default');
    bytes += withDefault;
  }
  for (const name of list.filter((each) => of(each).main)) {
    const fromIt = resolved(kept, [name]);
    bytes += withMain;
    if (fromIt.size < kept.size) add(described([...fromIt]), 'SystemModules$0');
  }
  add(bytes, 'SystemModulesMap');
  return all;
}

/** `lib/modules` (`image::modules_file`): bytes, and what it comes to in layers. */
function modulesFile(list, chosen, contents) {
  const rows = [...chosen].map((place) => contents.modules[place]);
  if (rows.some((row) => !row)) return null;
  const own = generated(list);
  const written = Math.floor((own.bytes * contents.percent) / 100) + contents.header * own.entries;
  let index = FRAME + own.index;
  let held = written;
  let namePlace = FIRST_NAME;
  list.forEach((name, at) => {
    const [entries, ownIndex, bytes, sizes, , , texts = 0] = rows[at];
    index += ownIndex + entries * attribute(name === BASE ? 7 : namePlace) + sizes + texts;
    index += entries * 4 + entriesBehind(held, bytes, entries);
    namePlace += length(name) + 1;
    held += bytes;
  });
  const column = (at) => rows.map((row) => row[at]);
  const texts = contents.texts ? sum(column(6)) : 0;
  const again = twice(contents.texts ?? model.names, chosen);
  index -= again + twice(model.packages, chosen);
  let table = least0(texts - again);
  if (contents.texts) {
    const [singles, single] = [sum(column(9)), sum(column(10))];
    held += share(singles, Math.min(least0(table - FAR), single), single);
  }
  // Texts are told apart from the rest of the index where it is known of all what they come to.
  const packed = texts > 0 ? [total(column(7)), total(column(8))] : [null, null];
  const apart = !packed.includes(null);
  if (!apart) table = 0;
  const [indexBytes, ...rates] = model.index;
  const layers = [4, 5].map((at) => total(column(at)));
  const isKnown = indexBytes > 0 && !layers.includes(null);
  return {
    disk: index + held,
    ...Object.fromEntries(LAYERS.map((layer, at) => [layer, isKnown
      ? layers[at] + share(least0(index - table), rates[at], indexBytes) + (apart ? share(packed[at], table, texts) : 0) + Math.floor(written / 3)
      : null])),
  };
}

/** Startup archives (`image::startup`). */
function startup(list) {
  const { listed, least, most } = model.startup;
  const own = sum(list.filter((name) => name !== BASE).map((name) => model.modules[places.get(name)].plain));
  const [count, bytes, ...layers] = least.map((from, at) => from + share(least0(most[at] - from), Math.min(own, listed), listed));
  return [bytes, ...(layers[0] > 0 || count === 0 ? layers : [null, null])];
}

/**
 * The image of a closed list in the order of names (`image::weigh`): bytes on disk, and of its layers by gzip and zstd, null
 * where not known; null where nothing is known of it.
 */
function weigh(list, image) {
  if (unweighed(list).length > 0) return null;
  const chosen = new Set(list.map((name) => places.get(name)));
  const file = modulesFile(list, chosen, model.contents[image.contents]);
  if (file === null) return null;
  const rows = [
    ...[...chosen].map((place) => model.beside[image.beside][place]),
    ...model.notices.filter(([, owners]) => owners.some((place) => chosen.has(place))).map(([sizes]) => sizes),
    image.startup_archive ? startup(list) : [0, 0, 0],
  ];
  const releaseFile = model.release_file_bytes + sum(list.map(length)) + least0(list.length - 1);
  const [disk, ...layers] = [0, 1, 2].map((at) => total(rows.map((row) => row[at])));
  return {
    disk: file.disk + disk + releaseFile + image.more,
    ...Object.fromEntries(LAYERS.map((layer, at) => [layer, total([file[layer], layers[at]])])),
  };
}

/** Bytes of the image as the linker makes it when no option is given; null where not known. */
function bytesOfImage(list) {
  const plain = answer.images[0];
  return plain ? weigh(list, plain)?.disk ?? null : null;
}

/** Bytes that an image of some modules has more than one of a part of them (`Scales::freed`); null where not known. */
function freedBy(all, rest) {
  const [before, after] = [all, rest].map((names) => bytesOfImage([...names].sort(byName)));
  return before === null || after === null ? null : before - after;
}
