import type { Sheet } from '../stencil/types.js';
import type { InkPaste, PasteEstimate, TimedPass, WearEstimate } from './plan-types.js';

export interface PasteOptions {
  readonly filmMm: number;
  /** Added to what is printed, for what stays on the tool and in the bowl. */
  readonly extraPercent: number;
  readonly densityGPerMl: number;
}

export interface WearOptions {
  /** null: by whether it is gauzed. */
  readonly placementsASheet: number | null;
  readonly daysASheet: number | null;
}

/** Placements that a sheet lasts: common practice, no published source. Gauze holds the paper; bare paper tears at its ties. */
const BARE_PLACEMENTS = 200;
const GAUZED_PLACEMENTS = 2000;
/** Treated paper without gauze lasts two or three uses (soaking and printing), say its users (noetique.net, no. 124): the lower is taken. */
const BARE_DAYS = 2;

/**
 * How much paste or colour the run takes: open area (first and second cut) × film × placements is what is printed, and `extraPercent` of that comes on top for
 * what stays on the tool and in the bowl. `placements` counts cut ones by their share of area. An estimate: of film and extra there is no published figure.
 */
export function estimatePaste(sheets: readonly Sheet[], placements: number, options: PasteOptions): PasteEstimate {
  const { filmMm, extraPercent, densityGPerMl } = options;
  const inks = new Map<string, { sheets: number; openMm2: number }>();
  for (const sheet of sheets) {
    const known = inks.get(sheet.ink) ?? { sheets: 0, openMm2: 0 };
    inks.set(sheet.ink, { sheets: known.sheets + 1, openMm2: known.openMm2 + openArea(sheet) });
  }
  const each = [...inks].map(([ink, { sheets: count, openMm2 }]): InkPaste => {
    // A cubic centimetre is 1000 mm³.
    const printedMl = (openMm2 * filmMm * placements) / 1000;
    const ml = printedMl * (1 + extraPercent / 100);
    return { ink, sheets: count, openMm2, printedMl, ml, grams: ml * densityGPerMl };
  });
  return {
    ...options,
    placements,
    inks: each,
    ml: each.reduce((sum, { ml }) => sum + ml, 0),
    grams: each.reduce((sum, { grams }) => sum + grams, 0),
  };
}

/** What comes on top of the paste that is printed, in the words of every text: `plus 40 % for tool and bowl`. */
export function extraWords({ extraPercent }: Pick<PasteOptions, 'extraPercent'>): string {
  return extraPercent === 0 ? 'nothing added for tool and bowl' : `plus ${extraPercent} % for tool and bowl`;
}

/** All that a sheet lets paste through, mm². */
export function openArea(sheet: Sheet): number {
  return sheet.openings.reduce((sum, { areaMm2 }) => sum + areaMm2, 0);
}

/** How many cut sheets each stencil of the run needs: by placements (each is one use of the sheet) and by the days on which it is soaked. */
export function estimateWear(
  sheets: readonly Sheet[],
  run: { readonly placements: number; readonly passes: readonly TimedPass[] },
  options: WearOptions,
): WearEstimate {
  const gauze = sheets.every(({ practice }) => practice.gauze);
  const placementsASheet = options.placementsASheet ?? (gauze ? GAUZED_PLACEMENTS : BARE_PLACEMENTS);
  const daysASheet = options.daysASheet ?? (gauze ? null : BARE_DAYS);
  return {
    gauze,
    placementsASheet,
    daysASheet,
    sheets: sheets.map(({ ink }, k) => {
      const days = daysOf(run.passes.filter(({ sheet }) => sheet === k + 1));
      const byDays = daysASheet === null ? 0 : Math.ceil(days / daysASheet);
      return { sheet: k + 1, ink, days, needed: Math.max(Math.ceil(run.placements / placementsASheet), byDays) };
    }),
  };
}

/** On how many days these passes, in order of time, are worked at. */
function daysOf(passes: readonly TimedPass[]): number {
  let count = 0;
  let last = 0;
  for (const { startDay, endDay } of passes) {
    count += endDay - Math.max(startDay - 1, last);
    last = endDay;
  }
  return count;
}
