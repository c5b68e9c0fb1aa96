import { boxOf } from '../../geometry/boxes.js';
import { contoursBox } from '../../geometry/contour.js';
import { middle } from '../../geometry/points.js';
import type { Box, Point } from '../../geometry/types.js';
import type { JudgedSheet, Sheet } from '../../stencil/types.js';
import { isSevere } from '../../strength/severe.js';
import { tonguesAgainst } from '../../strength/tongues.js';
import type { DropsAt, LongOpening, LooseIsland, NarrowPlace, SheetTie, Tongue } from '../../strength/types.js';
import { listText } from '../../units/words.js';

/** Weak places, places for gauze and islands that are named one by one, each; more than these are counted. */
const MOST_NAMED = 40;
/** Ties in a band of this height are read from left to right, mm. */
const BAND_MM = 20;

/**
 * A tie by its name: T1, T2, … stay; R1, R2, … go with the release cut. Where a tie of the job stands in several units of the sheet, its second place is called R1/2, and so on.
 */
export interface NamedTie {
  readonly name: string;
  readonly tie: SheetTie;
  readonly zone: string;
  readonly at: Point;
  readonly box: Box;
}

/** A weak place by its name, the worst first. */
export interface NamedNeck {
  readonly name: string;
  readonly neck: NarrowPlace;
  readonly zone: string;
}

/** A tongue against the stroke, or a long opening, that wants gauze or a strip, by its name. */
export interface GauzePlace {
  readonly name: string;
  readonly zone: string;
  readonly at: Point;
  readonly tongue: Tongue | null;
  readonly opening: LongOpening | null;
}

/** An island that falls out, by its name. */
export interface NamedIsland {
  readonly name: string;
  readonly island: LooseIsland;
  readonly zone: string;
}

/**
 * What a sheet's drawings call its ties and the places where its paper needs help: these are W1, W2, … in one sequence, islands first (by their ids), then weak places, then places
 * for gauze. Sheet mm.
 */
export interface PaperNames {
  readonly ties: readonly NamedTie[];
  readonly weak: readonly NamedNeck[];
  readonly moreWeak: number;
  readonly gauze: readonly GauzePlace[];
  readonly moreGauze: number;
  /** Those that fall out with the first or the second cut. */
  readonly islands: readonly NamedIsland[];
  readonly moreIslands: number;
  /** Islands that hang on release ties alone. */
  readonly onRelease: number;
  readonly groundCut: boolean;
}

/**
 * The names of all that a sheet's paper has to show: ties zone by zone in reading order, weak places the worst first. Of each kind at most
 * 40 are named, ties all of them.
 */
export function paperNames(sheet: JudgedSheet): PaperNames {
  const { paper } = sheet;
  const zone = (p: Point) => zoneAt(sheet, p);
  const weak = paper.necks.filter(needsStrip).sort(worseFirst);
  const gauze = [
    // Only against the stroke does the spatula lift a tongue.
    ...tonguesAgainst(paper.tongues, paper.rules.stroke)
      .sort((a, b) => b.lengthMm / b.rootMm - a.lengthMm / a.rootMm)
      .map((tongue) => ({ at: tongue.root, tongue, opening: null })),
    ...[...paper.longOpenings]
      .sort((a, b) => b.lengthMm - a.lengthMm)
      .map((opening) => ({ at: opening.at, tongue: null, opening })),
  ];
  const loose = paper.islands.filter(({ dropsAt }) => dropsAt !== 'release');
  const namedWeak = weak.slice(0, MOST_NAMED);
  const toWatch = (k: number) => `W${k}`;
  const weakFrom = 1 + paper.islands.reduce((most, { id }) => Math.max(most, Number(id)), 0);
  return {
    ties: namedTies(sheet),
    weak: namedWeak.map((neck, k) => ({ name: toWatch(weakFrom + k), neck, zone: zone(neck.atMm) })),
    moreWeak: Math.max(0, weak.length - MOST_NAMED),
    gauze: gauze.slice(0, MOST_NAMED).map((place, k) => {
      return { name: toWatch(weakFrom + namedWeak.length + k), zone: zone(place.at), ...place };
    }),
    moreGauze: Math.max(0, gauze.length - MOST_NAMED),
    islands: loose.slice(0, MOST_NAMED).map((island) => {
      return { name: toWatch(Number(island.id)), island, zone: zone(island.at) };
    }),
    moreIslands: Math.max(0, loose.length - MOST_NAMED),
    onRelease: paper.islands.length - loose.length,
    groundCut: paper.groundCut,
  };
}

/** The ties of one kind. */
export function tiesOf({ ties }: PaperNames, kind: SheetTie['kind']): NamedTie[] {
  return ties.filter(({ tie }) => tie.kind === kind);
}

/** True for a neck that has to be strengthened: what lies beyond hangs on it alone, or it is long for its width, or carries much. */
export function needsStrip(neck: NarrowPlace): boolean {
  return neck.weak || isSevere(neck);
}

/** Numbers of the openings on the two sides of a neck, the smaller first; the edge of the sheet has none. */
export function besideOf({ openings }: NarrowPlace): number[] {
  return [...new Set(openings)].filter((n) => n > 0).sort((a, b) => a - b);
}

/** For the number of every opening beside weak places, what its list says of them: `at W1 and W4`. */
export function weakBeside({ weak }: PaperNames): ReadonlyMap<number, readonly string[]> {
  const names = new Map<number, string[]>();
  for (const { name, neck } of weak) {
    for (const number of besideOf(neck)) names.set(number, [...(names.get(number) ?? []), name]);
  }
  return new Map([...names].map(([number, list]) => [number, [`at ${list.join(' and ')}`]]));
}

/** When paper falls out that no tie holds: with the first cut, or with the second. */
type FallsWith = Exclude<DropsAt, 'release'>;

/**
 * For the number of every opening around paper that falls out with a cut, what its list says: `paper W1 inside falls out`.
 */
export function fallsWithin(
  { paper }: JudgedSheet,
  { islands }: PaperNames,
  dropsAt: FallsWith,
): ReadonlyMap<number, string> {
  const named = new Map(islands.map(({ name, island }) => [island.id, name]));
  const within = new Map<number, string[]>();
  for (const island of paper.islands) {
    if (island.dropsAt !== dropsAt) continue;
    within.set(island.opening, [...(within.get(island.opening) ?? []), named.get(island.id) ?? 'more']);
  }
  return new Map(
    [...within].map(([number, names]) => {
      return [number, `paper ${listText([...new Set(names)])} inside ${names.length === 1 ? 'falls' : 'fall'} out`];
    }),
  );
}

function worseFirst(a: NarrowPlace, b: NarrowPlace): number {
  return Number(b.weak) - Number(a.weak) || b.hangsMm2 - a.hangsMm2 || a.widthMm - b.widthMm;
}

/** The ties of a sheet zone by zone in reading order. */
export function namedTies(sheet: Sheet): NamedTie[] {
  const order = new Map(sheet.zones.map((z, k) => [z.letter, k]));
  const placed = sheet.ties.map((tie) => {
    const at = middle(tie.from, tie.to);
    return { tie, at, zone: zoneAt(sheet, at), box: contoursBox([tie.outline]) ?? boxOf([tie.from, tie.to]) };
  });
  const band = ({ y }: Point) => Math.floor(y / BAND_MM);
  placed.sort(
    (a, b) =>
      (order.get(a.zone) ?? 0) - (order.get(b.zone) ?? 0) ||
      band(a.at) - band(b.at) ||
      a.at.x - b.at.x ||
      a.at.y - b.at.y,
  );
  const places = new Map<string, number>();
  return placed.map((one) => {
    const { id } = one.tie;
    const place = 1 + (places.get(id) ?? 0);
    places.set(id, place);
    return { name: place === 1 ? id : `${id}/${place}`, ...one };
  });
}

/** The letter of the zone with a list in which a place lies, or else of the nearest one; empty for a sheet without zones. */
function zoneAt({ zones }: Sheet, p: Point): string {
  let best = '';
  let least = Infinity;
  for (const { letter, box, firstCut, secondCut } of zones) {
    const dx = Math.max(box.x0 - p.x, 0, p.x - box.x1);
    const dy = Math.max(box.y0 - p.y, 0, p.y - box.y1);
    // A zone in which nothing is cut has no page.
    const far = Math.hypot(dx, dy) + (firstCut.length + secondCut.length > 0 ? 0 : 1e6);
    if (far < least) {
      least = far;
      best = letter;
    }
  }
  return best;
}
