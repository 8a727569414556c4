// What the tool found out, and figures as the tool writes them. Nothing here changes what it reads.

const answer = JSON.parse(document.getElementById('answer').textContent);
const { scan } = answer;
const BASE = 'java.base';

const parts = new Map(answer.parts.map((part) => [part.name, part]));
const rowOf = new Map(scan.modules.map((row) => [row.name, row]));
const pathsOf = new Map(answer.witnesses.map((row) => [row.module, row]));
const requiredBy = new Map(answer.parts.map((part) => [part.name, []]));
for (const part of answer.parts) {
  for (const name of part.requires) requiredBy.get(name)?.push(part.name);
}

/** Standings, strongest first, with their meanings; `none` for modules that nothing asks for. */
const STANDINGS = [
  ['needed', 'code asks for it and fails without it'],
  ['uncertain', 'asked for only by name, by feature, or far behind a guard'],
  ['tolerated', 'asked for only where the program bears its absence'],
  ['dormant', 'named only by code that nothing reaches'],
  ['implied', 'kept only because another module requires it'],
  ['none', 'nothing asks for it'],
];
const rank = (standing) => STANDINGS.findIndex(([word]) => word === standing);
const word = (standing) => (standing === 'none' ? 'not asked for' : standing);

const SECTIONS = [
  ['classes', 'classes and resources'],
  ['lib', 'native libraries and data'],
  ['other', 'everything else: commands, configuration, legal notices'],
];

/** Bytes of a module, or null where they are not known. */
function bytesOf(name) {
  const weight = parts.get(name)?.weight;
  return weight ? SECTIONS.reduce((sum, [section]) => sum + weight[section], 0) : null;
}

/** As `report::layout::megabytes`: one digit after the point, and something is never shown as nothing. */
function megabytes(bytes) {
  if (bytes === null || bytes === undefined) return '?';
  const tenths = Math.floor(bytes / 100000) + (bytes % 100000 >= 50000 ? 1 : 0);
  if (bytes === 0) return '0 MB';
  if (tenths === 0) return '<0.1 MB';
  return `${Math.floor(tenths / 10)}.${tenths % 10} MB`;
}

const grouped = (number) => String(number).replace(/\B(?=(\d{3})+$)/g, ',');
const count = (number, one, many) => `${grouped(number)} ${number === 1 ? one : many}`;

/** Foreign text with what cannot be seen, or would turn the writing direction, as numbers. */
const visible = (text) =>
  String(text).replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}]/gu, (c) => `\\u{${c.codePointAt(0).toString(16)}}`);

/** The last part of a locator that is an archive's name; its own classes are told with the archive around them. */
function archiveName(locator) {
  if (!locator) return 'the launch';
  const inside = locator.split('!/');
  const name = (path) => path.split(/[/\\]/).pop() || path;
  const tail = inside.at(-1);
  return inside.length > 1 && !/\.[a-z]ar$/.test(tail) ? `${name(inside.at(-2))}!/${tail}` : name(tail);
}

