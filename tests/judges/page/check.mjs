// Uses a page as a person would and says what is wrong with it.
// usage: node check.mjs JOB.json    JOB: {browser, axe, mermaid, what, page, …}; prints {faults: […], …} as JSON.

import { readFileSync } from 'node:fs';
import { browser } from './browser.mjs';

const job = JSON.parse(readFileSync(process.argv[2], 'utf8'));
const faults = [];
const hold = (holds, message) => { if (!holds) faults.push(message); };
const equal = (found, expected, what) => hold(JSON.stringify(found) === JSON.stringify(expected),
  `${what}: ${JSON.stringify(found)} instead of ${JSON.stringify(expected)}`);

/** Nothing on the console, nothing asked of anybody. */
function quiet(tab, what) {
  equal(tab.said, [], `${what}: the console`);
  equal(tab.asked, [], `${what}: requests`);
}

const works = { use, choices, judge, hostile, mermaid, opens };
const more = await browser(job.browser, works[job.what]);
process.stdout.write(JSON.stringify({ faults, ...more }));

/** Filter, sort, evidence, copying, keyboard, switches; figures against the data. */
async function use(connection) {
  const tab = await connection.open(job.page);
  const names = () => tab.run(() => [...document.querySelectorAll('tr.module')].map((row) => row.dataset.module));
  const cell = (kind) => tab.run((kind) => [...document.querySelectorAll(`tr.module td.${kind}`)].map((cell) => cell.textContent), kind);
  const set = (id, value, event) => tab.run((id, value, event) => {
    const field = document.getElementById(id);
    field.value = value;
    field.dispatchEvent(new Event(event, { bubbles: true }));
  }, id, value, event);
  const { scan, parts } = await tab.run(() => JSON.parse(document.getElementById('answer').textContent));

  // The same figures as in the data, written as the text format writes them; the expected words come from the tool.
  equal(await tab.run(() => document.getElementById('headline').textContent), job.headline, 'the verdict');
  equal(await tab.run(() => Number(document.getElementById('headline').dataset.bytes)), scan.weight.selection_bytes, 'bytes of the selection');
  equal(await tab.run(() => document.getElementById('list').textContent), scan.list.join(','), 'the list');
  const rows = await tab.run(() => Object.fromEntries([...document.querySelectorAll('tr.module')].map((row) => [row.dataset.module,
    [row.querySelector('.standing').textContent, row.querySelector('.weight').textContent, row.querySelector('.why').textContent,
      row.querySelector('input').checked]])));
  for (const row of scan.modules) {
    equal(rows[row.name], [row.standing, job.weights[row.name], row.reason, row.kept], `the row of ${row.name}`);
  }
  equal(Object.keys(rows).sort(), scan.modules.map((row) => row.name).sort(), 'modules in the table');
  const sole = Object.fromEntries(scan.modules.filter((row) => row.kept && row.root).map((row) => [row.name, job.soles[row.name]]));
  const frees = await tab.run(() => Object.fromEntries([...document.querySelectorAll('tr.module')]
    .map((row) => [row.dataset.module, row.querySelector('.frees').textContent]).filter(([, text]) => text !== '')));
  delete sole['java.base'];
  equal(Object.entries(frees).sort(), Object.entries(sole).sort(), 'what each module frees');

  // Who brings what: archive or sum, and the figures of its row.
  const table = (label) => tab.run((label) => [...document.querySelectorAll(`table[aria-label="${label}"] tbody tr`)]
    .map((row) => [...row.children].slice(0, -1).map((cell) => cell.textContent)), label);
  equal(await table('Who brings what'), job.archives, 'who brings what');
  equal(await table('What doubt costs'), job.costs, 'what doubt costs');

  // The chart: areas are in the ratio of bytes.
  const areas = await tab.run(() => [...document.querySelectorAll('.piece')].map((piece) => {
    const face = piece.querySelector('.face');
    const side = (name) => Number(face.getAttribute(name)) + 2;
    return [piece.dataset.module, side('width') * side('height')];
  }));
  const bytes = (name) => Object.values(parts.find((part) => part.name === name).weight).reduce((a, b) => a + b, 0);
  const big = areas.filter(([name]) => bytes(name) > 1_000_000);
  const scale = big.map(([name, area]) => area / bytes(name));
  hold(big.length > 3 && Math.max(...scale) / Math.min(...scale) < 1.02, `areas are not as bytes: ${JSON.stringify(scale)}`);

  // Filter: by words, fate, standing. Rows left out are not in the document.
  await set('find', 'SQL', 'input');
  equal((await names()).every((name) => rows[name][2].toLowerCase().includes('sql') || name.includes('sql')), true, 'found by sql');
  hold((await names()).includes('java.sql') && (await names()).length < scan.modules.length, 'the filter finds java.sql and not all');
  await set('find', 'no such thing', 'input');
  equal(await names(), [], 'found by nothing');
  equal(await tab.run(() => document.getElementById('found').textContent), '0 modules', 'how many are found');
  await set('find', '', 'input');
  await set('fate', 'left', 'change');
  equal((await names()).sort(), scan.modules.filter((row) => !row.kept).map((row) => row.name), 'left out');
  await set('fate', 'all', 'change');
  equal((await names()).sort(), parts.map((part) => part.name), 'all modules of the platform');
  await set('fate', 'asked', 'change');
  await set('standing', 'uncertain', 'change');
  equal((await names()).sort(), scan.modules.filter((row) => row.standing === 'uncertain').map((row) => row.name), 'the uncertain ones');
  await set('standing', 'any', 'change');

  // Sort: by name both ways, by weight.
  const click = (id) => tab.run((id) => document.getElementById(id).click(), id);
  await click('sort-name');
  equal(await names(), [...await names()].sort(), 'sorted by name');
  equal(await tab.run(() => document.querySelector('th[aria-sort]').className), 'name', 'what is sorted by');
  await click('sort-name');
  equal(await names(), [...await names()].sort().reverse(), 'sorted by name, downwards');
  await click('sort-weight');
  const figures = (await names()).map(bytes);
  equal(figures, [...figures].sort((a, b) => b - a), 'sorted by weight');
  await click('sort-standing');

  // Evidence and paths.
  await click('why-java.sql');
  const told = await tab.run(() => document.querySelector('tr.reasons').textContent);
  for (const text of ['java.sql.DriverManager', 'Who asks for it', 'How the program gets there', 'on the platform']) {
    hold(told.includes(text), `the reasons do not say ${text}`);
  }
  equal(await tab.run(() => document.getElementById('why-java.sql').getAttribute('aria-expanded')), 'true', 'opened');
  await click('why-java.sql');
  equal(await tab.run(() => document.querySelectorAll('tr.reasons').length), 0, 'reasons after closing');
  await tab.run(() => document.querySelector('.piece[data-module="java.xml"]').dispatchEvent(new MouseEvent('click', { bubbles: true })));
  equal(await tab.run(() => document.activeElement.id), 'why-java.xml', 'where a press on the chart leads');
  await click('why-java.xml');

  // Copying, in all forms.
  for (const [form, expected] of [['list', scan.list.join(',')], ['link', `jlink --output runtime --add-modules ${scan.list.join(',')}`]]) {
    await click(`form-${form}`);
    await click('copy');
    await tab.run(() => new Promise((resolve) => setTimeout(resolve, 100)));
    equal(await tab.run(() => document.getElementById('copied').textContent), 'Copied', `copying the ${form}`);
    equal(await tab.run(() => navigator.clipboard.readText()), expected, `the clipboard after copying the ${form}`);
  }

  // Keyboard alone: reach the policy, change it, reach a switch, turn it, come back.
  await tab.run(() => { document.activeElement.blur(); document.getElementById('policy-safe').focus(); });
  await tab.press('ArrowRight');
  equal(await tab.run(() => document.querySelector('[name=policy]:checked').value), 'whole', 'the policy after an arrow key');
  await tab.press('Tab');
  equal(await tab.run(() => document.activeElement.id), 'reset', 'where Tab leads');
  await tab.press('Enter', 'Enter', '\r');
  equal(await tab.run(() => document.querySelector('[name=policy]:checked').value), 'safe', 'the policy after going back');
  const visited = new Set();
  await tab.run(() => { document.activeElement.blur(); scrollTo(0, 0); });
  for (let presses = 0; presses < 120; presses += 1) {
    await tab.press('Tab');
    const id = await tab.run(() => document.activeElement.id || document.activeElement.className || document.activeElement.tagName);
    if (id === 'keep-java.logging') await tab.press(' ', 'Space', ' ');
    visited.add(id);
  }
  for (const id of ['copy', 'find', 'fate', 'sort-weight', 'why-java.sql', 'keep-java.logging']) hold(visited.has(id), `Tab never leads to ${id}`);
  const off = await tab.run(() => [document.getElementById('keep-java.logging').checked, document.getElementById('conflicts').textContent]);
  hold(off[0] && off[1].startsWith('java.logging cannot be left out: it is required by java.rmi'), `java.logging without java.rmi: ${off}`);
  quiet(tab, 'use');
  await narrows(connection);
  return {};
}

/** Nothing is wider than a narrow window, opened or not. */
async function narrows(connection) {
  for (const width of [360, 768]) {
    const narrow = await connection.open(job.page, { width, height: 740 });
    await narrow.run(() => document.querySelectorAll('button.open').forEach((_, at) => document.querySelectorAll('button.open')[at].click()));
    await narrow.run(() => document.querySelectorAll('details').forEach((part) => { part.open = true; }));
    const [needed, there] = await narrow.run(() => [document.documentElement.scrollWidth, document.documentElement.clientWidth]);
    hold(needed <= there && there > width - 20, `the page is ${needed} wide in a window of ${there}`);
    quiet(narrow, `at ${width}`);
  }
}

/** Turns switches at random, and if so told each module in turn; what the page then says is for the tool to confirm. */
async function choices(connection) {
  const tab = await connection.open(job.page);
  const told = await tab.run((seed, rounds, each) => {
    let state = seed;
    const random = (below) => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      return Math.floor((state / 2 ** 32) * below);
    };
    const field = document.getElementById('fate');
    field.value = 'all';
    field.dispatchEvent(new Event('change'));
    const switches = () => [...document.querySelectorAll('td.keep input:not(:disabled)')];
    const state_of_page = () => {
      document.getElementById('form-scan').click();
      const command = document.getElementById('list').textContent;
      document.getElementById('form-list').click();
      return {
        command,
        list: document.getElementById('list').textContent.split(','),
        bytes: document.getElementById('headline').dataset.bytes === '' ? null : Number(document.getElementById('headline').dataset.bytes),
        headline: document.getElementById('headline').textContent,
        images: [...document.querySelectorAll('#images tr')].map((row) => [row.querySelector('th').textContent,
          ...[...row.querySelectorAll('td')].map((cell) => (cell.dataset.bytes === '' ? null : Number(cell.dataset.bytes)))]),
        frees: Object.fromEntries([...document.querySelectorAll('tr.module')].filter((row) => row.querySelector('.frees').textContent !== '')
          .map((row) => [row.dataset.module, Number(row.querySelector('.frees').dataset.bytes)])),
        purposes: Object.fromEntries([...document.querySelectorAll('#purposes label')]
          .map((label) => [label.firstChild.id.replace('purpose-', ''), Number(label.lastChild.dataset.bytes)])),
        launch: document.getElementById('launch').hidden ? '' : document.querySelector('#launch code').textContent,
        conflicts: [...document.querySelectorAll('#conflicts li')].map((item) => item.firstChild.textContent),
      };
    };
    const found = [];
    for (let at = 0; each && at < switches().length; at += 1) {
      document.getElementById('reset').click();
      switches()[at].click();
      found.push(state_of_page());
    }
    for (let round = 0; round < rounds; round += 1) {
      document.getElementById('reset').click();
      document.getElementById(`policy-${['lean', 'safe', 'whole'][random(3)]}`).click();
      const turns = 1 + random(6);
      for (let turn = 0; turn < turns; turn += 1) {
        const all = switches();
        all[random(all.length)].click();
      }
      found.push(state_of_page());
    }
    return found;
  }, job.seed, job.rounds, job.each);
  quiet(tab, 'choices');
  return { choices: told };
}

/** Accessibility rules (axe-core), in light and dark, wide and narrow, with all opened that can be. */
async function judge(connection) {
  const axe = readFileSync(job.axe, 'utf8');
  let rules = 0;
  for (const scheme of ['light', 'dark']) {
    for (const width of [1280, 360]) {
      const tab = await connection.open(job.page, { scheme, width });
      await tab.run(() => {
        for (const id of ['why-java.sql', 'why-java.logging', 'policy-lean']) document.getElementById(id)?.click();
        document.querySelectorAll('details').forEach((part) => { part.open = true; });
      });
      await tab.script(axe);
      const { violations, passes } = await tab.run(async () => {
        const found = await axe.run(document, { resultTypes: ['violations'] });
        return { passes: found.passes.length,
          violations: found.violations.map((rule) => `${rule.id}: ${rule.nodes.map((node) => node.html.slice(0, 120)).slice(0, 3).join(' | ')}`) };
      });
      equal(violations, [], `accessibility, ${scheme}, ${width}`);
      rules = Math.max(rules, passes);
      // A judge that finds nothing anywhere would pass, too.
      const planted = await tab.run(async () => {
        document.body.append(Object.assign(document.createElement('img'), { id: 'planted' }));
        const found = await axe.run('#planted');
        return found.violations.map((rule) => rule.id);
      });
      hold(planted.includes('image-alt'), `the judge misses an image without text: ${planted}`);
    }
  }
  hold(rules > 15, `only ${rules} rules had something to judge`);
  return { rules };
}

/** Names that are markup, or that cannot be seen, are text. */
async function hostile(connection) {
  const tab = await connection.open(job.page);
  await tab.run(() => {
    const field = document.getElementById('fate');
    field.value = 'all';
    field.dispatchEvent(new Event('change'));
    for (let at = 0; at < document.querySelectorAll('button.open').length; at += 1) document.querySelectorAll('button.open')[at].click();
    document.querySelectorAll('details').forEach((part) => { part.open = true; });
    document.querySelectorAll('button.more').forEach((button) => button.click());
  });
  const { text, planted, odd } = await tab.run(() => ({
    text: document.body.innerText,
    planted: document.querySelectorAll('img, a[href^="javascript"], b:not(.severity), iframe, body > script:not(:nth-last-of-type(-n+2))').length,
    odd: [...document.body.innerText].filter((c) => /[\p{Cf}\p{Cc}]/u.test(c) && !'\n\t'.includes(c)).length,
  }));
  equal(planted, 0, 'elements that a name made');
  equal(odd, 0, 'characters that cannot be seen');
  equal(await tab.run(() => globalThis.planted === undefined), true, 'scripts that a name ran');
  for (const name of job.names) hold(text.includes(name), `the page does not show ${name}`);
  quiet(tab, 'hostile');
  return {};
}

/** How long a page takes until it is drawn, and how large it is in the document. */
async function opens(connection) {
  const tab = await connection.open(job.page);
  const times = [];
  for (let round = 0; round < 5; round += 1) {
    await tab.go(job.page);
    times.push(await tab.run(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => resolve(performance.now()))))));
  }
  quiet(tab, 'opens');
  await narrows(connection);
  return { milliseconds: times.sort((a, b) => a - b)[2], elements: await tab.run(() => document.querySelectorAll('*').length) };
}

/** Flow charts, by the parser of those who made the language. */
async function mermaid(connection) {
  const tab = await connection.open(job.page);
  await tab.script(readFileSync(job.mermaid, 'utf8'));
  const parse = (text) => tab.run(async (text) => {
    try {
      return (await mermaid.parse(text)).diagramType;
    } catch (error) {
      return String(error);
    }
  }, text);
  for (const chart of job.charts) {
    const kind = await parse(chart);
    hold(kind.startsWith('flowchart'), `${kind}\n${chart}`);
  }
  hold(!(await parse('flowchart LR\n  a["x" --> b')).startsWith('flowchart'), 'the parser takes anything');
  return {};
}
