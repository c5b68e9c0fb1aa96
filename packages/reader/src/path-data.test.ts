import svgpath from 'svgpath';
import { describe, expect, it } from 'vitest';
import { parsePathData } from './path-data.js';
import { corners } from './testing.test-help.js';

const read = (d: string) => parsePathData(d, { maxSegments: 1e6 });
const ends = (d: string) => read(d).contours.map(corners);

describe('path data', () => {
  it.each([
    [
      'M1 2L3 4',
      [
        [
          [1, 2],
          [3, 4],
        ],
      ],
    ],
    [
      'm1 2l3 4',
      [
        [
          [1, 2],
          [4, 6],
        ],
      ],
    ],
    [
      'M1 2H5V9h-2v-3',
      [
        [
          [1, 2],
          [5, 2],
          [5, 9],
          [3, 9],
          [3, 6],
        ],
      ],
    ],
    [
      'M0 0 10 0 10 10z',
      [
        [
          [0, 0],
          [10, 0],
          [10, 10],
          [0, 0],
        ],
      ],
    ],
    [
      'm5 5 1 0 0 1z l3 3',
      [
        [
          [5, 5],
          [6, 5],
          [6, 6],
          [5, 5],
        ],
        [
          [5, 5],
          [8, 8],
        ],
      ],
    ],
    [
      'm5 5 1 0 0 1z m3 3 1 1',
      [
        [
          [5, 5],
          [6, 5],
          [6, 6],
          [5, 5],
        ],
        [
          [8, 8],
          [9, 9],
        ],
      ],
    ],
    [
      'M0 0C1 1 2 1 3 0s2-1 3 0',
      [
        [
          [0, 0],
          [3, 0],
          [6, 0],
        ],
      ],
    ],
    [
      'M0 0Q1 1 2 0t2 0T6 0',
      [
        [
          [0, 0],
          [2, 0],
          [4, 0],
          [6, 0],
        ],
      ],
    ],
    [
      'M.5.5-1-1e1',
      [
        [
          [0.5, 0.5],
          [-1, -10],
        ],
      ],
    ],
    [
      'M007 01L1.,2.',
      [
        [
          [7, 1],
          [1, 2],
        ],
      ],
    ],
    [
      'M0,0,1,1',
      [
        [
          [0, 0],
          [1, 1],
        ],
      ],
    ],
    [
      '\n\tM 1 , 1 L +2 2 ',
      [
        [
          [1, 1],
          [2, 2],
        ],
      ],
    ],
  ])('%s', (d, want) => {
    const result = read(d);
    expect(result.fault).toBeNull();
    expect(result.contours.map(corners)).toEqual(want);
  });

  it('reads glued arc flags', () => {
    for (const d of ['M0 0a1 1 0 01.5.5', 'M0 0a1,1,0,0,1,.5,.5', 'M0 0a1 1 0 0 1 .5 .5']) {
      expect(ends(d)[0].at(-1)).toEqual([0.5, 0.5]);
    }
    expect(ends('M0 0a25 25 0 0150-25')[0].at(-1)).toEqual([50, -25]);
  });

  it('mirrors the handle only after a curve of the same kind', () => {
    const [a] = read('M0 0C0 1 1 1 1 0S2-1 2 0').contours;
    expect(Array.from(a.coords.subarray(8, 10))).toEqual([1, -1]);
    const [b] = read('M0 0Q5 5 1 0S2-1 2 0').contours;
    expect(Array.from(b.coords.subarray(8, 10))).toEqual([1, 0]);
  });

  it.each([
    ['M0 0L20', 6, 'M0 0'],
    ['M0 0L1 1X5', 8, 'M0 0L1 1'],
    ['M0 0L1 1 nan 3', 9, 'M0 0L1 1'],
    ['L1 1', 0, ''],
    ['M0 0A1 1 0 2 1 5 5', 11, 'M0 0'],
    ['M0 0L1e999 1', 5, 'M0 0'],
    ['M0 0R1 1', 4, 'M0 0'],
    ['M0 0z5 5', 5, 'M0 0z'],
    ['undefined', 0, ''],
  ])('keeps what comes before the fault in %s', (d, at, good) => {
    const result = read(d);
    expect(result.fault?.at).toBeGreaterThanOrEqual(at);
    expect(result.fault?.at).toBeLessThanOrEqual(at + 1);
    expect(result.contours).toEqual(read(good).contours);
  });

  it('draws a point where a subpath stays in one place, and nothing for a bare move', () => {
    expect(read('M5 5').contours).toHaveLength(0);
    expect(read('M5 5z').contours).toHaveLength(1);
    expect(read('M5 5l0 0').contours[0].coords).toHaveLength(8);
    expect(read('M0 0l0 0 5 0').contours[0].coords).toHaveLength(8);
  });

  // svgpath is an independent reader of path data.
  it('agrees with svgpath on where each command ends', () => {
    const d = 'm10 20c5-5 10 5 15 0s.5.5 2 3q1 2 3 0t4 1h-3v2l1 1a3 2 15 10 4 4m1 1 2 2 2-1zm3 3V8H2T9 9S1 2 3 4';
    const want: [number, number][] = [];
    svgpath(d)
      .abs()
      .iterate((segment, _k, x, y) => {
        const n = segment.length;
        if (segment[0] === 'H') want.push([segment[1] as number, y]);
        else if (segment[0] === 'V') want.push([x, segment[1] as number]);
        else if (segment[0] !== 'Z' && n > 2) want.push([segment[n - 2] as number, segment[n - 1] as number]);
      });
    const got = ends(d).flat();
    for (const [x, y] of want) {
      expect(got.some(([u, v]) => Math.abs(u - x) < 1e-3 && Math.abs(v - y) < 1e-3)).toBe(true);
    }
    expect(want).toHaveLength(17);
  });

  it('reads 300,000 points after one letter', () => {
    const d = `M0 0L${Array.from({ length: 300_000 }, (_, k) => `${k} ${k % 7}`).join(' ')}`;
    expect(read(d).segments).toBe(299_999);
  });
});
