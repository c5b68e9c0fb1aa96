import { circleContour, type JobFile, type JobResult } from '@okuri/core';
import { cutGuideDrawing, printSheetDrawings, reverseContour } from '@okuri/core/inside';
import { fontMetrics } from '@okuri/writer';
import { describe, expect, it } from 'vitest';
import { box, disc, fill, runShapes } from './whole-job/support.js';

// What the guide says of tools, of pieces that fall out and of time, on small jobs whose answer is known.

const FONT = fontMetrics();

/** All words of the guide, in the order in which they are written. */
function guideWords(result: JobResult): string {
  return cutGuideDrawing(result, FONT)
    .pages.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])))
    .join(' ');
}

describe('punches', () => {
  const HOLES = [
    ...[20, 40, 60].map((x, k) => disc(`fine-${k}`, { x, y: 30 }, 1.2)),
    ...[20, 40].map((x, k) => disc(`round-${k}`, { x, y: 60 }, 1.5)),
  ];
  const toolsOf = ({ sheets }: JobResult) => sheets[0].openings.map(({ tool, punchMm }) => `${tool} ${punchMm ?? ''}`);

  it('are the nearest within the tolerance, and what is drawn is said', () => {
    const result = runShapes(HOLES, [100, 100]);
    expect(toolsOf(result).sort()).toEqual(['punch 2.5', 'punch 2.5', 'punch 2.5', 'punch 3', 'punch 3']);
    const words = guideWords(result);
    expect(words).toMatch(/punched[^:]*: 3 of 2\.5 mm \(drawn 2\.4\), 2 of 3 mm/);
    expect(words).toContain('at most 0.3 mm off what is drawn');
    // What is punched needs no blade that turns tight.
    expect(result.findings.map(({ code }) => code)).not.toContain('curve-tight');
    expect(runShapes(HOLES, [100, 100], { punches: [] }).findings.map(({ code }) => code)).toContain('curve-tight');
    expect(words).toMatch(/punch 2\.5 mm \(drawn 2\.4\) 1 2 3 punch 3 mm 4 5/);
  });

  it('are those that the job owns', () => {
    expect(toolsOf(runShapes(HOLES, [100, 100], { punches: ['2mm', '3mm'] })).sort()).toEqual([
      'knife ',
      'knife ',
      'knife ',
      'punch 3',
      'punch 3',
    ]);
    const none = runShapes(HOLES, [100, 100], { punches: [] });
    expect(toolsOf(none)).toEqual(Array(5).fill('knife '));
    expect(guideWords(none)).not.toMatch(/punched:|punch \d/);
  });

  it('of a set in inches are written to a hundredth', () => {
    const result = runShapes([disc('hole', { x: 30, y: 30 }, 2)], [100, 100], { punches: ['5/32in'] });
    expect(guideWords(result)).toContain('1 of 3.97 mm');
    expect(guideWords(runShapes([box('bar', 20, 20, 30, 24)], [100, 100]))).not.toContain('of 3.97 mm');
  });
});

describe('paper that falls out', () => {
  // A ring: what stands within it hangs on nothing. A bar beside it holds.
  const ring = fill('ring', [circleContour({ x: 40, y: 40 }, 15), reverseContour(circleContour({ x: 40, y: 40 }, 8))]);
  const bar = box('bar', 20, 75, 60, 78);

  it('stands in a list of its own, with what to do first', () => {
    const result = runShapes([ring, bar], [120, 120]);
    const around = result.strength[0].islands.map(({ opening }) => opening);
    expect(around).toHaveLength(1);
    const words = guideWords(result);
    const own =
      /Do not cut yet: paper inside falls out\. Ask the dyer for a tie first (.*?)(?:Test cloth|Not yet)/.exec(
        words,
      )?.[1];
    expect(own).toContain(`${around[0]} paper W1 inside falls out`);
    const plain = /First cut, in this order (.*?)Do not cut yet/.exec(words)?.[1] ?? '';
    expect(plain.split(' ')).not.toContain(`${around[0]}`);
    expect(plain.split(' ')).toContain(`${3 - around[0]}`);
    const sheets = printSheetDrawings(result, FONT).flatMap(({ pages }) => pages.flatMap(({ items }) => items));
    expect(sheets.flatMap((item) => (item.kind === 'text' ? [item.text] : [])).join(' ')).toContain(
      '1 piece of paper falls out if cut so',
    );
  });

  it('is an ordinary piece again once a tie holds it', () => {
    const ties = {
      '#000000': [
        {
          id: 'T1',
          kind: 'printed' as const,
          from: [47.9, 40] as [number, number],
          to: [55.1, 40] as [number, number],
        },
      ],
    };
    const words = guideWords(runShapes([ring, bar], [120, 120], { ties }));
    expect(words).not.toContain('inside falls out');
  });

  it('is said beside its second cut, where only that sets it free', () => {
    // Within the margin that is not cut before the proof.
    const late = fill('late', [
      circleContour({ x: 106, y: 60 }, 7),
      reverseContour(circleContour({ x: 106, y: 60 }, 3)),
    ]);
    expect(guideWords(runShapes([late], [120, 120]))).toMatch(/paper W1 inside falls out: ask for a tie first/);
  });
});

describe('findings', () => {
  // A bar far longer than paper spans, and two slots with a thread of paper between them.
  const shapes = [box('long', 20, 20, 280, 26), box('slot-a', 20, 60, 120, 66), box('slot-b', 20, 66.4, 120, 72)];
  const said = (says: Partial<JobFile>) => runShapes(shapes, [320, 120], { paper: { span: '60mm' }, ...says }).findings;

  it('that ask for gauze are nothing to mend where gauze is in the job', () => {
    const bare = said({ gauze: false }).filter(({ message }) => /\bgauze\b/.test(message));
    expect(new Set(bare.map(({ code, severity }) => `${code} ${severity}`))).toEqual(
      new Set(['opening-long fix', 'neck fix']),
    );
    const gauzed = said({ gauze: true });
    expect(gauzed.map(({ code }) => code)).toEqual(expect.arrayContaining(['opening-long', 'neck']));
    for (const { severity, message } of gauzed) {
      expect(message).not.toMatch(/put gauze|gauze over/);
      if (/\bgauze\b/.test(message)) expect(severity).not.toBe('fix');
    }
  });
});

it('time is told by the pace of the cutter, or else by ours', () => {
  const words = (pace: NonNullable<JobFile['pace']>) =>
    guideWords(runShapes([box('bar', 20, 20, 80, 30)], [120, 120], { pace }));
  expect(words({})).toContain('our estimate, at 150 mm a minute and 3 s a corner, until you time yourself');
  expect(words({})).not.toContain('your own pace');
  for (const pace of [{ mmPerMinute: 151 }, { secondsPerCorner: 2 }, { blade: '2m' }]) {
    expect(words(pace)).toContain('an estimate from your own pace');
  }
});
