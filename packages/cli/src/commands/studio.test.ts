import { once } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { type IncomingHttpHeaders, request } from 'node:http';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { text } from 'node:stream/consumers';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openerOf } from '../open-browser.js';
import { runCommand } from '../run-command.js';
import { type Handed, studioAnswers } from '../studio-files.js';
import { type Served, serveAnswers } from '../studio-server.js';

const folder = mkdtempSync(join(tmpdir(), 'okuri-studio-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const PAGE = '<!doctype html><html><head><title>Okuri</title></head><body></body></html>';
const FILES: Readonly<Record<string, string>> = {
  'secret.txt': 'not to be had',
  'dist/index.html': PAGE,
  'dist/manifest.webmanifest': '{}',
  'dist/icon.svg': '<svg/>',
  'dist/assets/index-Ab12.js': 'export {};',
  'dist/assets/index-Cd34.css': 'a{}',
  'dist/assets/plain-Ef56.woff2': 'font',
  'dist/a b.unheard': 'x',
};
mkdirSync(join(folder, 'dist/assets'), { recursive: true });
for (const [path, content] of Object.entries(FILES)) writeFileSync(join(folder, path), content);
symlinkSync(join(folder, 'secret.txt'), join(folder, 'dist/linked.txt'));

interface Reply {
  readonly code: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

/** Node's own client sends a path as it is given, without making it tidy as `fetch` does. */
async function ask(served: Served, path: string, { method = 'GET', headers = {} } = {}): Promise<Reply> {
  const asked = request({ host: '127.0.0.1', port: served.port, path, method, headers }).end();
  const [reply] = await once(asked, 'response');
  return { code: reply.statusCode, headers: reply.headers, body: await text(reply) };
}

const HANDED: Handed = {
  id: 'one',
  files: [
    { name: 'leaf.okuri.json', bytes: new TextEncoder().encode('{}') },
    { name: '../a "leaf".svg', bytes: new Uint8Array([60, 0, 255]) },
  ],
};

describe('the studio is served', () => {
  let served: Served;
  beforeAll(async () => {
    served = await serveAnswers(studioAnswers(join(folder, 'dist'), HANDED) ?? new Map(), 0);
  });
  afterAll(() => served.close());

  it.each([
    // Types by IANA's list of media types; text/javascript by RFC 9239, manifests by W3C's Web Application Manifest.
    ['/', 'text/html; charset=utf-8', 'no-store'],
    ['/index.html', 'text/html; charset=utf-8', 'no-store'],
    ['/?once=more', 'text/html; charset=utf-8', 'no-store'],
    ['/manifest.webmanifest', 'application/manifest+json; charset=utf-8', 'no-store'],
    ['/icon.svg', 'image/svg+xml', 'no-store'],
    ['/assets/index-Ab12.js', 'text/javascript; charset=utf-8', 'public, max-age=31536000, immutable'],
    ['/assets/index-Cd34.css', 'text/css; charset=utf-8', 'public, max-age=31536000, immutable'],
    ['/assets/plain-Ef56.woff2', 'font/woff2', 'public, max-age=31536000, immutable'],
    ['/a%20b.unheard', 'application/octet-stream', 'no-store'],
    ['/handed/list.json', 'application/json; charset=utf-8', 'no-store'],
  ])('%s as %s, %s', async (path, type, caching) => {
    const got = await ask(served, path);
    expect(got.code).toBe(200);
    expect(got.headers).toMatchObject({ 'content-type': type, 'cache-control': caching });
    expect(Number(got.headers['content-length'])).toBe(Buffer.byteLength(got.body));
    const head = await ask(served, path, { method: 'HEAD' });
    expect([head.code, head.body]).toEqual([200, '']);
    expect({ ...head.headers, date: '' }).toEqual({ ...got.headers, date: '' });
  });

  it.each([
    '/../secret.txt',
    '/%2e%2e/secret.txt',
    '/..%2fsecret.txt',
    '/assets/../../secret.txt',
    '/assets/..%2f..%2fsecret.txt',
    '/..%5csecret.txt',
    '/%252e%252e/secret.txt',
    '//secret.txt',
    `/${encodeURIComponent(join(folder, 'secret.txt'))}`,
    'file:///etc/passwd',
    '/linked.txt',
    '/index.html%00.js',
    '/%ff',
    '/assets',
    '/assets/',
    '/handed/',
    '/handed/2',
    '/favicon.png',
    '/constructor',
  ])('nothing at %s', async (path) => {
    const { code, body, headers } = await ask(served, path);
    expect(code).toBe(404);
    expect(body).not.toContain('not to be had');
    expect(headers['cache-control']).toBe('no-store');
  });

  it('to be read only', async () => {
    for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS']) {
      const { code, headers } = await ask(served, '/handed/0', { method });
      expect([code, headers.allow]).toEqual([405, 'GET, HEAD']);
    }
  });

  it('to no page that calls this machine by a name of its own', async () => {
    for (const host of ['studio.example', `studio.example:${served.port}`, '127.0.0.1:1']) {
      expect((await ask(served, '/handed/1', { headers: { host } })).code).toBe(421);
    }
    expect((await ask(served, '/', { headers: { host: `localhost:${served.port}` } })).code).toBe(200);
  });

  it('with a policy that lets the page reach nothing but this server', async () => {
    for (const path of ['/', '/assets/index-Ab12.js', '/nothing']) {
      const policy = String((await ask(served, path)).headers['content-security-policy']);
      const rules = new Map(policy.split('; ').map((rule) => [rule.split(' ')[0], rule.split(' ').slice(1)]));
      expect(rules.get('default-src')).toEqual(["'none'"]);
      for (const kind of ['connect-src', 'script-src', 'worker-src']) expect(rules.get(kind)).toEqual(["'self'"]);
      expect(policy).not.toMatch(/unsafe|http|\*/);
    }
  });

  it('to this machine alone', async () => {
    expect(served.address).toBe(`http://127.0.0.1:${served.port}/`);
    // Another of this machine's own addresses (all of 127.0.0.0/8 is, RFC 1122, 3.2.1.3) finds nobody there.
    const socket = connect({ host: '127.0.0.2', port: served.port });
    await expect(once(socket, 'connect')).rejects.toThrow();
    socket.destroy();
  });

  it('with the files that it was started with, and a mark in the page that says so', async () => {
    const { body } = await ask(served, '/');
    expect(body).toBe(PAGE.replace('</head>', '<meta name="okuri-served" content="handed/list.json" /></head>'));
    const list = JSON.parse((await ask(served, '/handed/list.json')).body);
    expect(list).toEqual({
      id: 'one',
      files: [
        { name: 'leaf.okuri.json', at: 'handed/0' },
        { name: '../a "leaf".svg', at: 'handed/1' },
      ],
    });
    const reply = await fetch(`${served.address}handed/1`);
    expect(new Uint8Array(await reply.arrayBuffer())).toEqual(HANDED.files[1].bytes);
  });
});

it('without files there is nothing to open', () => {
  const answers = studioAnswers(join(folder, 'dist'), null);
  expect([...(answers?.keys() ?? [])].filter((path) => path.startsWith('/work'))).toEqual([]);
  expect(new TextDecoder().decode(answers?.get('/')?.bytes)).toContain('<meta name="okuri-served" content="" />');
});

it('a folder without a built studio gives no answers', () => {
  expect(studioAnswers(join(folder, 'dist/assets'), null)).toBeNull();
  expect(studioAnswers(join(folder, 'nowhere'), null)).toBeNull();
});

it('opens the browser by a program of the system, with the address as one argument', () => {
  const address = 'http://127.0.0.1:1/';
  expect(openerOf('linux', address)).toEqual(['xdg-open', [address]]);
  expect(openerOf('darwin', address)).toEqual(['open', [address]]);
  expect(openerOf('win32', address)).toEqual(['rundll32', ['url.dll,FileProtocolHandler', address]]);
});

describe('what can not be used ends with 2 and one sentence', () => {
  writeFileSync(join(folder, 'broken.svg'), '<svg><g></svg>');
  writeFileSync(join(folder, 'odd.okuri.json'), '{ "okuri": 1, "motif": "broken.svg", "witdh": "3mm" }');
  writeFileSync(join(folder, 'alone.okuri.json'), '{ "okuri": 1, "motif": "missing.svg" }');
  it.each([
    [['nowhere.svg'], /nowhere\.svg can't be read: there is no such file/],
    [['broken.svg'], /broken\.svg: /],
    [['odd.okuri.json'], /witdh/],
    [['alone.okuri.json'], /missing\.svg can't be read/],
    [['--port', 'http'], /--port is "http": give a number/],
    [['--port', '70000'], /--port is "70000"/],
    [['--port', '-1'], /--port/],
  ])('%j', async (args, sentence) => {
    const said = { out: '', err: '' };
    const streams = {
      out: (line: string) => {
        said.out += line;
      },
      err: (line: string) => {
        said.err += line;
      },
      errIsTerminal: false,
    };
    const named = args.map((arg) => (/\.(?:svg|json)$/.test(arg) ? join(folder, arg) : arg));
    expect(await runCommand(['studio', '--no-open', ...named], streams)).toBe(2);
    expect(said.out).toBe('');
    expect(said.err).toMatch(sentence);
    expect(said.err.trimEnd()).toMatch(/^okuri: [^\n]*\.$/);
  });
});
