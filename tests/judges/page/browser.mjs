// A headless Chromium, led through its DevTools protocol over a pair of pipes: no port, no library.
// https://chromedevtools.github.io/devtools-protocol/

import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const LIMIT = 60_000;

export async function browser(program, work) {
  const home = mkdtempSync(join(tmpdir(), 'page-'));
  const child = spawn(program, [
    '--headless=new', '--remote-debugging-pipe', '--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage', '--no-first-run',
    '--disable-background-networking', '--disable-component-update', '--disable-extensions', `--user-data-dir=${home}`, 'about:blank',
  ], { stdio: ['ignore', 'ignore', 'ignore', 'pipe', 'pipe'], detached: true });
  const gone = new Promise((resolve) => child.on('exit', resolve));
  try {
    return await work(new Connection(child));
  } finally {
    // The whole group: a browser is many processes.
    try { process.kill(-child.pid, 'SIGKILL'); } catch { /* it has gone by itself */ }
    await gone;
    rmSync(home, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  }
}

class Connection {
  constructor(child) {
    this.waiting = new Map();
    this.listeners = [];
    this.next = 1;
    this.out = child.stdio[3];
    let rest = '';
    child.stdio[4].setEncoding('utf8').on('data', (text) => {
      const messages = (rest + text).split('\0');
      rest = messages.pop();
      for (const message of messages) this.hear(JSON.parse(message));
    });
    child.on('exit', () => {
      for (const { reject } of this.waiting.values()) reject(new Error('the browser has gone'));
    });
  }

  hear(message) {
    const asked = this.waiting.get(message.id);
    if (!asked) {
      for (const listener of this.listeners) listener(message);
      return;
    }
    this.waiting.delete(message.id);
    clearTimeout(asked.timer);
    if (message.error) asked.reject(new Error(`${asked.method}: ${message.error.message}`));
    else asked.resolve(message.result);
  }

  send(method, params = {}, sessionId = undefined) {
    const id = this.next;
    this.next += 1;
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error(`${method} took longer than ${LIMIT} ms`)), LIMIT);
      this.waiting.set(id, { resolve, reject, timer, method });
      this.out.write(`${JSON.stringify({ id, method, params, sessionId })}\0`);
    });
  }

  /** A new tab on a file, once it is loaded; `width` of its window, `scheme` light or dark. */
  async open(file, { width = 1280, height = 900, scheme = 'light' } = {}) {
    const { browserContextId } = await this.send('Target.createBrowserContext');
    const { targetId } = await this.send('Target.createTarget', { url: 'about:blank', browserContextId });
    const { sessionId } = await this.send('Target.attachToTarget', { targetId, flatten: true });
    const tab = new Tab(this, sessionId);
    await Promise.all(['Page', 'Runtime', 'Network', 'Log', 'DOM', 'Accessibility'].map((part) => tab.send(`${part}.enable`)));
    await tab.send('Emulation.setDeviceMetricsOverride', { width, height, deviceScaleFactor: 1, mobile: false });
    await tab.send('Emulation.setEmulatedMedia', { features: [{ name: 'prefers-color-scheme', value: scheme }] });
    await this.send('Browser.grantPermissions', { permissions: ['clipboardReadWrite', 'clipboardSanitizedWrite'], browserContextId });
    await tab.go(file);
    return tab;
  }
}

class Tab {
  constructor(connection, session) {
    this.connection = connection;
    this.session = session;
    /** What the page said on the console, or failed at. */
    this.said = [];
    /** Addresses that it asked for beside itself. */
    this.asked = [];
    connection.listeners.push(({ method, params, sessionId }) => {
      if (sessionId !== session) return;
      if (method === 'Runtime.consoleAPICalled') this.said.push(params.args.map((a) => a.value ?? a.description).join(' '));
      if (method === 'Runtime.exceptionThrown') this.said.push(params.exceptionDetails.exception?.description ?? params.exceptionDetails.text);
      if (method === 'Log.entryAdded') this.said.push(params.entry.text);
      if (method === 'Network.requestWillBeSent') this.asked.push(params.request.url);
      if (method === 'Page.loadEventFired') this.loaded?.();
    });
  }

  send(method, params) {
    return this.connection.send(method, params, this.session);
  }

  async go(file) {
    const address = pathToFileURL(file).href;
    const loaded = new Promise((resolve) => { this.loaded = resolve; });
    await this.send('Page.navigate', { url: address });
    await loaded;
    this.asked = this.asked.filter((url) => url !== address);
  }

  /** Runs a function in the page; what it takes and gives is JSON. */
  async run(work, ...given) {
    const expression = `(${work})(...${JSON.stringify(given)})`;
    const answer = await this.send('Runtime.evaluate', { expression, awaitPromise: true, returnByValue: true, userGesture: true });
    if (answer.exceptionDetails) throw new Error(answer.exceptionDetails.exception?.description ?? answer.exceptionDetails.text);
    return answer.result.value;
  }

  /** Runs a script that belongs to no page: the page's own content policy does not hold for it. */
  async script(text) {
    const answer = await this.send('Runtime.evaluate', { expression: text });
    if (answer.exceptionDetails) throw new Error(answer.exceptionDetails.exception?.description ?? answer.exceptionDetails.text);
  }

  async press(key, code = key, text = undefined, keyCode = { Tab: 9, Enter: 13, ' ': 32, ArrowRight: 39 }[key] ?? 0) {
    const event = { key, code, text, windowsVirtualKeyCode: keyCode };
    await this.send('Input.dispatchKeyEvent', { type: 'keyDown', ...event });
    await this.send('Input.dispatchKeyEvent', { type: 'keyUp', ...event });
  }

  async type(text) {
    await this.send('Input.insertText', { text });
  }
}
