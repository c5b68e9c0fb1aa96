import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { runCommand } from '../run-command.js';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'okuri-square-'));
  writeFileSync(join(folder, 'leaf.svg'), LEAF);
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const LEAF =
  '<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="90mm" viewBox="0 0 120 90">' +
  '<path d="M10 8 40 20 70 60 30 40z"/></svg>';

function job(keys: object = {}): string {
  const path = join(folder, 'leaf.okuri.json');
  writeFileSync(path, JSON.stringify({ okuri: 1, motif: 'leaf.svg', date: '2026-03-01', ...keys }));
  return path;
}

async function okuri(...args: string[]) {
  const said = { out: '', err: '' };
  const streams = {
    out: (text: string) => {
      said.out += text;
    },
    err: (text: string) => {
      said.err += text;
    },
    errIsTerminal: false,
  };
  const code = await runCommand(['square', ...args], streams);
  return { code, ...said };
}

/** Six distances, each with its option. */
function six(top: string, right: string, bottom: string, left: string, falling: string, rising: string): string[] {
  const values = { top, right, bottom, left, falling, rising };
  return Object.entries(values).flatMap(([span, value]) => [`--${span}`, value]);
}

/** A 3-4-5 sheet of 24 by 18 in. */
const TRUE = six('24in', '18in', '24in', '18in', '30in', '30in');

describe('without measurements', () => {
  it('says what to punch and to measure', async () => {
    const { code, out, err } = await okuri(job({ repeat: 'half-drop' }));
    expect([code, err]).toEqual([0, '']);
    expect(out).toMatch(/1\. hole A \(upper left\), where the lead sides meet/);
    expect(out).toMatch(/--falling +falling diagonal, A–D: 150 mm/);
    expect(out).toMatch(/look {2}How far the paper moves/);
  });

  it('tells lengths for the ruler that is at hand', async () => {
    const path = job();
    expect((await okuri(path, '--ruler', 'mm')).out).not.toMatch(/\d in\b/);
    expect((await okuri(path, '--ruler', '16')).out).toMatch(/4 3\/4 in \(\+0\.65 mm\)/);
  });

  it('prints one document', async () => {
    const { out } = await okuri(job({ grain: 'level' }), '--movement', '1,2', '--json');
    const document = JSON.parse(out);
    expect(document).toMatchObject({ punch: 'dry', movement: { widthPercent: 1, heightPercent: 2 } });
    expect(document.targets.widthMm).toBeCloseTo(120 / 1.01, 3);
    expect(document.printed.widthMm).toBe(120);
    expect(document.order).toHaveLength(4);
  });

  it('must be mended where nothing tells how the grain runs', async () => {
    expect((await okuri(job({ movement: { along: 1, across: 2 } }))).code).toBe(1);
  });
});

describe('with measurements', () => {
  it('judges six distances without a job, in any units', async () => {
    for (const args of [TRUE, six('609.6mm', '45.72 cm', '24"', '1 1/2 ft', '762mm, 762.4mm, 761.6mm', '30in')]) {
      const { code, out } = await okuri(...args, '--json');
      expect(code).toBe(0);
      expect(JSON.parse(out)).toMatchObject({
        flat: true,
        shape: 'rectangle',
        square: true,
        suspect: null,
        repunch: [],
      });
    }
  });

  it('gathers readings that are given one by one', async () => {
    const { out } = await okuri(...TRUE, '--top', '609mm', '--top', '610.2mm', '--json');
    expect(JSON.parse(out).readings.top).toMatchObject({ count: 3, meanMm: 609.6 });
  });

  it('exits with 1 for a trapezoid whose diagonals agree, and says what to punch', async () => {
    const { code, out } = await okuri(...six('600mm', '450mm', '590mm', '450mm', '746.3mm', '746.3mm'), '--json');
    expect(code).toBe(1);
    const document = JSON.parse(out);
    expect(document).toMatchObject({ flat: true, shape: 'trapezoid', square: false });
    expect(document.outOfSquareMm).toBeGreaterThan(4);
    expect(document.repunch.map(({ fromMm }: { fromMm: object[] }) => fromMm.length)).toEqual([2, 2]);
    expect(document.drift.firstOver).toMatchObject({ column: 1, row: 2 });
  });

  it('measures what fits no flat sheet with exit 1', async () => {
    const { code, out } = await okuri(...six('24in', '18in', '24in', '18in', '29in', '29in'), '--json');
    expect([code, JSON.parse(out).flat, JSON.parse(out).drift]).toEqual([1, false, null]);
  });

  it('says what fewer distances prove', async () => {
    const { code, out } = await okuri('--falling', '750mm', '--rising', '750mm');
    expect(code).toBe(0);
    expect(out).toContain('not proved');
    expect(out).toContain('alone they prove nothing');
  });

  it('measures the dots of a half-drop by their letters, several at once', async () => {
    const args = six('120mm', '90mm', '120mm', '90mm', '150mm', '150mm');
    const far = `${Math.hypot(120, 45).toFixed(2)}mm`;
    const { code, out } = await okuri(
      ...args,
      '--extra',
      `A-C=${far}`,
      `E-C=${far}, ${far}`,
      `b-f=${far}`,
      `D-F=${far}`,
      job({ repeat: 'half-drop' }),
      '--json',
      '--placements',
      '7',
    );
    expect(code).toBe(0);
    const document = JSON.parse(out);
    expect(document.extra.map(({ name, ok }: { name: string; ok: boolean }) => [name, ok])).toEqual([
      ['C', true],
      ['F', true],
    ]);
    expect(document.drift).toMatchObject({ down: 7, assumedDots: [] });
  });
});

describe('input that can not be used', () => {
  it.each([
    [[], /^okuri: Name a job to be told what to punch and measure, or give measurements/],
    [['--top', '600'], /--top: the length "600" has no unit/],
    [['--top', '600mm', '--ruler', '12'], /--ruler is "12": say mm, 16, 32 or 64\./],
    [['--top', '600mm', '--extra', 'A=5mm'], /--extra is "A=5mm": write two letters/],
    [['--top', '600mm', '--extra', 'A-F=5mm'], /name the job/],
    [['--top', '600mm', '--reading-error', '0mm'], /--reading-error is "0mm": it must be from/],
    [['--top', '600mm', '--placements', 'many'], /--placements is "many": give a whole number/],
    [['--top', '600mm', '--measured', 'moist'], /--measured is "moist": say dry or wet\./],
    [['--top', '600mm', '--measured', 'wet'], /--measured is about a job/],
    [['--top', '600mm', '--movement', '1,2'], /--movement is about a job/],
    [['--top', '600mm', '--left', '450mm', '--rising', '1500mm'], /can't belong to three holes/],
  ])('%j: one sentence, exit 2, nothing on standard output', async (args, message) => {
    const { code, out, err } = await okuri(...args);
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(message);
    expect(err.trimEnd().split('\n')).toHaveLength(1);
  });

  it('is said with a job too', async () => {
    const path = job();
    for (const [args, message] of [
      [['--reading-error', '1mm'], /--reading-error goes with measurements/],
      [['--movement', 'much'], /--movement must be "unknown"/],
      [['--top', '120mm', '--extra', 'A-F=3mm'], /no dots between its corners/],
    ] as const) {
      const { code, out, err } = await okuri(path, ...args);
      expect([code, out]).toEqual([2, '']);
      expect(err).toMatch(message);
    }
  });
});
