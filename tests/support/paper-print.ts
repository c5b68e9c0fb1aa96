import type { Contour, Sheet } from '@okuri/core';
import type { PaperDrawing } from './paper-scan.js';
import { generator } from './proof-print.js';

/** Paper around a sheet's print, mm. */
const AROUND_MM = 10;

export interface PasteFaults {
  readonly seed: number;
  /** Paste creeps under the sheet by so much, mm. */
  readonly spreadMm: number;
  /** Places that the paste missed, somewhere in the print. */
  readonly missed: number;
  /** Paste that was drawn along from an edge as the sheet was lifted. */
  readonly smears: number;
}

/** A print through a sheet's first cut and its dots, on paper, by a hand that is not a machine's. The sheet's upper left lies 10 mm from the paper's. */
export function printOnPaper(sheet: Sheet, { seed, spreadMm, missed, smears }: PasteFaults): PaperDrawing {
  const random = generator(seed);
  const d = sheet.openings.flatMap(({ firstCut }) => firstCut.map(pathOf)).join('');
  const dots = sheet.dots
    .map(({ at, diameterMm }) => `<circle cx="${at.x}" cy="${at.y}" r="${diameterMm / 2}"/>`)
    .join('');
  const print = `<g stroke="#000" stroke-width="${2 * spreadMm}" stroke-linejoin="round"><path d="${d}"/>${dots}</g>`;
  const nodes = sheet.openings.flatMap(({ firstCut }) =>
    firstCut.flatMap(({ coords }) =>
      Array.from({ length: (coords.length - 2) / 6 }, (_, k) => [coords[6 * k], coords[6 * k + 1]]),
    ),
  );
  const somewhere = (): number[] => nodes[Math.floor(random() * nodes.length)];
  const bare = Array.from({ length: missed }, () => {
    const [x, y] = somewhere();
    const r = 0.3 + 0.5 * random();
    return `<path transform="translate(${x + 2 * random() - 1} ${y + 2 * random() - 1}) rotate(${360 * random()}) scale(${r})" d="M-1 0C-1 -1.4 0.6 -1 1 -0.2C1.3 0.8 -0.8 1.2 -1 0Z" fill="#fff"/>`;
  });
  const streaks = Array.from({ length: smears }, () => {
    const [x, y] = somewhere();
    const hairs = Array.from({ length: 9 }, (_, k) => `M${x} ${y + 0.25 * k}h${2 + 4 * random()}`);
    return `<path d="${hairs.join('')}" fill="none" stroke="#000" stroke-width="0.2" stroke-opacity="0.45"/>`;
  });
  return {
    widthMm: sheet.widthMm + 2 * AROUND_MM,
    heightMm: sheet.heightMm + 2 * AROUND_MM,
    ink: `<g transform="translate(${AROUND_MM} ${AROUND_MM})">${streaks.join('')}${print}${bare.join('')}</g>`,
  };
}

function pathOf({ coords }: Contour): string {
  let text = `M${coords[0]} ${coords[1]}`;
  for (let k = 2; k < coords.length; k += 6) text += `C${coords.subarray(k, k + 6).join(' ')}`;
  return `${text}Z`;
}
