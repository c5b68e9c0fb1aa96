import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  builtStudio,
  HAS_CHROMIUM,
  type Host,
  IN_CHROMIUM,
  launchChromium,
  serveFiles,
  visit,
  workedOut,
} from './support/studio.js';
import { dropFiles, type HandFile, openStep, savedFiles, type as typeIn } from './support/studio-hand.js';

// The unit gets another size in the studio, in Debian's Chromium.

const textFile = (name: string, text: string): HandFile => ({ name, bytes: new TextEncoder().encode(text) });

/** A square ring of 4 mm around an island. */
const RING = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="160mm" viewBox="0 0 200 160">
<path fill-rule="evenodd" d="M46 36h28v28h-28z M50 40h20v20h-20z"/></svg>`;
/** The second is 2 mm from the island's corner: at 60 mm that is 0.6 mm, and a tie is 2 mm wide as ever. A file of the old form, without sizes. */
const TIES = [
  { id: 'T1', kind: 'printed', from: [70, 50], to: [74, 50] },
  { id: 'T2', kind: 'printed', from: [70, 42], to: [74, 42] },
];
const JOB = { okuri: 1, motif: 'ring.svg', width: '200mm', ties: { '#000000': TIES } };

describe.skipIf(!HAS_CHROMIUM)(`a unit that gets another size in the studio${IN_CHROMIUM}`, () => {
  let browser: Browser;
  let host: Host;
  beforeAll(async () => {
    host = await serveFiles(await builtStudio());
    browser = await launchChromium();
  });
  afterAll(async () => {
    await browser?.close();
    await host?.close();
  });

  it('takes the ties along, and asks where one finds no banks: kept, taken out or undone in one step', async () => {
    const { page, context, faults } = await visit(browser, host.address);
    await workedOut(page);
    await dropFiles(page, [textFile('ring.okuri.json', JSON.stringify(JOB, null, 2)), textFile('ring.svg', RING)]);
    await page.getByText('ring.svg: one unit of 200 mm × 160 mm').waitFor();
    await workedOut(page);
    const job = async () => {
      const file = (await savedFiles(page)).find(({ name }) => name.endsWith('.json'));
      return JSON.parse(new TextDecoder().decode(file?.bytes));
    };
    const setWidth = async (width: string) => {
      await openStep(page, 'Motif');
      await typeIn(page, 'Width of the unit', width);
      await workedOut(page);
    };
    const undo = page.getByRole('button', { name: 'Undo' });
    const question = page.getByRole('dialog', { name: 'One tie finds no two banks of paper at the new size' });

    await setWidth('210mm');
    expect(await job()).toMatchObject({
      width: '210mm',
      takenAt: { ties: '210x168mm' },
      ties: {
        '#000000': [
          { from: [73.5, 52.5], to: [77.7, 52.5] },
          { from: [73.5, 44.1], to: [77.7, 44.1] },
        ],
      },
    });
    expect(await question.count()).toBe(0);
    // One step back, and one forward again.
    await undo.click();
    await workedOut(page);
    expect(await job()).toEqual(JOB);
    await page.getByRole('button', { name: 'Redo' }).click();
    await workedOut(page);
    expect(await job()).toMatchObject({ width: '210mm', takenAt: { ties: '210x168mm' } });

    await setWidth('60mm');
    await question.getByText('T2: the unit was 210 mm × 168 mm, and is 60 mm × 48 mm now.').waitFor();
    await question.getByRole('button', { name: 'Go back to 210 mm × 168 mm' }).click();
    await workedOut(page);
    expect(await job()).toMatchObject({ width: '210mm', takenAt: { ties: '210x168mm' } });

    await setWidth('60mm');
    await question.getByRole('button', { name: 'Take it out' }).click();
    await workedOut(page);
    const { ties, takenAt } = await job();
    expect([ties['#000000'].map(({ id }: { id: string }) => id), takenAt.ties]).toEqual([['T1'], '60x48mm']);
    await undo.click();
    await workedOut(page);
    expect((await job()).ties['#000000']).toHaveLength(2);

    await setWidth('60mm');
    await question.getByRole('button', { name: 'Keep it' }).click();
    await workedOut(page);
    expect((await job()).ties['#000000'].map(({ id }: { id: string }) => id)).toEqual(['T1', 'T2']);
    await openStep(page, 'Paper');
    await page.getByRole('button', { name: /^T2 .*▲ It finds no two banks there and is left out/ }).waitFor();
    expect(await question.count()).toBe(0);
    expect(faults).toEqual([]);
    await context.close();
  });
});
