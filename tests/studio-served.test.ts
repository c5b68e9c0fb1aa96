import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { type Handed, type Served, serveAnswers, studioAnswers } from '@okuri/cli';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MAIN } from './support/command.js';
import { builtStudio, HAS_CHROMIUM, IN_CHROMIUM, launchChromium, until, visit, workedOut } from './support/studio.js';

const LEAF =
  '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40"><circle cx="30" cy="20" r="9"/></svg>';

/** A job of one round opening, as the command hands it over. */
function handed(id: string, title: string): Handed {
  const job = { okuri: 1, title, motif: 'leaf.svg', repeat: 'straight' };
  const files = { [`${id}.okuri.json`]: JSON.stringify(job), 'leaf.svg': LEAF };
  return { id, files: Object.entries(files).map(([name, text]) => ({ name, bytes: new TextEncoder().encode(text) })) };
}

describe.skipIf(!HAS_CHROMIUM)(`the studio from okuri studio${IN_CHROMIUM}`, () => {
  let browser: Browser;
  let folder: string;
  let served: Served;
  beforeAll(async () => {
    folder = await builtStudio();
    browser = await launchChromium();
  });
  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });

  it('opens the job it was started with once, and asks before other work is put away', async () => {
    served = await serve(folder, handed('first', 'First leaf'), 0);
    const { port, address } = served;
    const { page, context, faults } = await visit(browser, address);
    await workedOut(page);
    expect(await title(page)).toBe('First leaf');
    // The person goes on with it, and loads the page anew.
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: 'Redo' }).click();
    await workedOut(page);
    await until(page, KEPT);
    await page.reload();
    await workedOut(page);
    expect([await title(page), await page.getByRole('dialog').count()]).toEqual(['First leaf', 0]);

    // Another job on another day, at the same address.
    await served.close();
    served = await serve(folder, handed('second', 'Second leaf'), port);
    await page.goto(address);
    const dialog = page.getByRole('dialog', { name: /Open “Second leaf”, and put “First leaf” away\?/ });
    await dialog.waitFor();
    await dialog.getByRole('button', { name: 'Stay with what is at hand' }).click();
    expect([await title(page), await page.getByRole('dialog').count()]).toEqual(['First leaf', 0]);

    await served.close();
    served = await serve(folder, handed('third', 'Third leaf'), port);
    await page.goto(address);
    await page.getByRole('dialog').getByRole('button', { name: 'Open', exact: true }).click();
    expect(await title(page)).toBe('Third leaf');
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await title(page)).toBe('First leaf');
    // What lies on this machine anyway is not kept a second time.
    expect(await workers(page)).toBe(0);
    // Not one breach of the policy, which the console would tell.
    expect(faults).toEqual([]);
    await context.close();
  });

  it('says what it can not open, and goes on with the work at hand', async () => {
    await served?.close();
    const { id, files } = handed('odd', 'Odd');
    served = await serve(folder, { id, files: files.slice(0, 1) }, 0);
    const { page, context, faults } = await visit(browser, served.address);
    await page.getByText('odd.okuri.json names the drawing "leaf.svg": drop both files together.').waitFor();
    expect(faults).toEqual([]);
    await context.close();
  });

  it('can reach no other address', async () => {
    // What the page says of itself for other hosts is what this server says, but for what a page can't say.
    const reply = await fetch(served.address);
    const own = /Content-Security-Policy" content="([^"]*)"/.exec(await reply.text())?.[1].replaceAll('&#39;', "'");
    expect(reply.headers.get('content-security-policy')).toBe(`${own}; frame-ancestors 'none'`);
    const { page, context } = await visit(browser, served.address);
    const tries = {
      'connect-src': 'fetch("https://studio.example/").catch(() => null)',
      'img-src': 'new Image().src = "https://studio.example/x.png"',
      'script-src-elem':
        'document.head.append(Object.assign(document.createElement("script"), { src: "https://studio.example/x.js" }))',
    };
    for (const [kind, tried] of Object.entries(tries)) {
      const breach = `new Promise((told) => {
        addEventListener('securitypolicyviolation', ({ effectiveDirective }) => told(effectiveDirective), { once: true });
        ${tried};
      })`;
      expect(await page.evaluate(breach)).toBe(kind);
    }
    await context.close();
  });
});

it('okuri studio runs until it is ended, with code 0', async () => {
  await builtStudio();
  const child = spawn(process.execPath, [MAIN, 'studio', '--no-open', '--port', '0'], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const said = { out: '', err: '' };
  child.stderr.on('data', (chunk) => {
    said.err += chunk;
  });
  for await (const chunk of child.stdout) {
    said.out += chunk;
    const address = /^The studio is at (http:\/\/127\.0\.0\.1:\d+\/) until Ctrl-C ends it\.\n$/.exec(said.out)?.[1];
    if (address === undefined) continue;
    expect((await fetch(address)).status).toBe(200);
    child.kill('SIGTERM');
  }
  const [code] = child.exitCode === null ? await once(child, 'exit') : [child.exitCode];
  expect([code, said.err]).toEqual([0, '']);
  expect(said.out).toContain('The studio is at ');
});

/** True once the browser's store holds what the window shows. */
const KEPT = `new Promise((tell) => {
  const asked = indexedDB.open('okuri-studio');
  asked.onsuccess = () => {
    const all = asked.result.transaction('work').objectStore('work').getAll();
    all.onsuccess = () => {
      asked.result.close();
      tell(all.result.some(({ jobText }) => jobText?.includes('First leaf')));
    };
  };
})`;

async function serve(folder: string, job: Handed, port: number): Promise<Served> {
  const answers = studioAnswers(folder, job);
  if (answers === null) throw new Error(`${folder} holds no built studio`);
  return serveAnswers(answers, port);
}

async function title(page: Page): Promise<string> {
  return (await page.locator('.job-title').textContent()) ?? '';
}

function workers(page: Page): Promise<number> {
  return page.evaluate('navigator.serviceWorker.getRegistrations().then((all) => all.length)');
}
