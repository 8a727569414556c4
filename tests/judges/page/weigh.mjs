// Weighs images by the page's script alone, without a browser.
// usage: node weigh.mjs JOB.json    JOB: {answer, lists}; prints, for each list, what each image comes to.
// `answer` is the text of the page's data block.

import { readFileSync } from 'node:fs';

const { answer, lists } = JSON.parse(readFileSync(process.argv[2], 'utf8'));
const source = (part) => readFileSync(new URL(`../../../src/report/html/${part}.js`, import.meta.url), 'utf8');
const script = `'use strict';\n${['data', 'rules', 'weight'].map(source).join('')}return { answer, weigh };`;
const page = new Function('document', script)({ getElementById: () => ({ textContent: answer }) });
process.stdout.write(JSON.stringify(lists.map((list) => page.answer.images.map((image) => page.weigh(list, image)))));
