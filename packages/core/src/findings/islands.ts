import type { Point } from '../geometry/types.js';
import type { Finding } from '../motif/finding.js';
import type { DropsAt, LooseIsland } from '../strength/types.js';
import { rounded } from '../units/round.js';

export interface IslandFindingOptions {
  /** Gauze is stuck over the sheet before it prints: it holds what release ties held until then. */
  readonly gauze: boolean;
  /** The ink is cut as two sheets already; by default it is not. */
  readonly twoSheets?: boolean;
  /** The number of an opening that people are shown. */
  readonly name: (opening: number) => string;
  /** Sheet mm to the unit's mm. */
  readonly place: (p: Point) => Point;
}

const CODES: Readonly<Record<DropsAt, string>> = {
  first: 'island-first',
  second: 'island-second',
  release: 'island-release',
};

/** What to say about islands, one finding each, in their order. Only what gauze holds when its release ties are cut away is a mere note. */
export function islandFindings(islands: readonly LooseIsland[], options: IslandFindingOptions): Finding[] {
  return islands.map((island) => {
    const opening = options.name(island.opening);
    return {
      code: CODES[island.dropsAt],
      topic: 'paper',
      severity: island.dropsAt === 'release' && options.gauze ? ('note' as const) : ('fix' as const),
      message: `${whatHappens(island, opening, options.gauze)}${whereHeld(island)}${whatToDo(island, options)}`,
      atMm: options.place(island.at),
      measure: {
        island: island.id,
        opening,
        dropsAt: island.dropsAt,
        areaMm2: rounded(island.areaMm2),
        depth: island.depth,
        ...(island.within === null ? {} : { within: island.within }),
        ...(island.span ? { spanMm: rounded(island.span.lengthMm) } : {}),
      },
    };
  });
}

function whatHappens(island: LooseIsland, opening: string, gauze: boolean): string {
  const what = `island ${island.id} (${area(island.areaMm2)}) in opening ${opening}`;
  if (island.dropsAt === 'first') return `${capital(what)} falls out at the first cut`;
  if (island.dropsAt === 'second') return `Only the uncut held margin holds ${what}; it drops at the second cut`;
  return gauze
    ? `Only the gauze holds ${what} once its release ties are cut away`
    : `${capital(what)} falls out when its release ties are cut away`;
}

/** Spans below this are places where paper touches paper, mm: they show as 0.0. */
const TOUCHES_MM = 0.05;

function whereHeld({ span, within }: LooseIsland): string {
  const inner = within === null ? '' : `, and island ${within} around it has to be held first`;
  if (!span) return inner;
  if (span.lengthMm < TOUCHES_MM) return `, for it touches the paper around it in a point only${inner}`;
  return `, ${span.lengthMm.toFixed(1)} mm from the paper around it${inner}`;
}

/** What the job has already is not asked for: gauze that is to come needs only release ties until then. */
function whatToDo({ dropsAt }: LooseIsland, { gauze, twoSheets = false }: IslandFindingOptions): string {
  if (dropsAt === 'release' && gauze) return ': let the gauze dry well before cutting them.';
  const ways =
    dropsAt === 'release'
      ? ['leave a tie that prints', 'put gauze over the sheet']
      : [
          'leave a tie there',
          gauze ? 'a release tie that holds it until the gauze is on' : 'hold it by gauze and release ties',
        ];
  // On two sheets ties stay, and no release tie is taken.
  if (twoSheets) return `: ${ways[0]}.`;
  return `: ${ways.join(', ')}, or cut two sheets.`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Whole mm² from ten on, tenths below, and no island is said to have none. */
function area(mm2: number): string {
  if (mm2 < 0.05) return 'under 0.1 mm²';
  return `${mm2.toFixed(mm2 < 9.95 ? 1 : 0)} mm²`;
}
