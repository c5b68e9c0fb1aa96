import { expect, it } from 'vitest';
import { PLAIN_SCAN } from '../scan/settings';
import { savedNames } from './save-as-files';

const motif = { name: 'cartoon.png', bytes: new Uint8Array() };
const jobText = '{ "okuri": 1, "motif": "scans/cartoon.png" }';

it('keeps a scan of which nothing was said, and saves the trace of any other', () => {
  expect(savedNames({ jobText, motif })).toEqual({ job: 'cartoon.okuri.json', motif: 'cartoon.png', traced: false });
  expect(savedNames({ jobText, motif, scan: PLAIN_SCAN }).traced).toBe(false);
  for (const said of [
    { smooth: 2 },
    { specksMm2: 1 },
    { inkShift: -0.1 },
    { scale: { from: 'resolution', dpi: 300 } },
  ] as const) {
    expect(savedNames({ jobText, motif, scan: { ...PLAIN_SCAN, ...said } })).toEqual({
      job: 'cartoon.okuri.json',
      motif: 'cartoon.svg',
      traced: true,
    });
  }
});
