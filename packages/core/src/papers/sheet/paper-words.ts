import type { JudgedSheet, Sheet } from '../../stencil/types.js';
import { isUsualPace, USUAL_PACE } from '../../strength/cutting-work.js';
import type { CutAway, CuttingWork, Pace } from '../../strength/types.js';
import { tieNumber } from '../../ties/tie-names.js';
import { counted, shareText } from '../../units/words.js';
import { nameRanges } from './join-places.js';
import { type PaperNames, paperNames, tiesOf } from './paper-names.js';

/** `sheet 1 of 3`. */
export function sheetName({ index, count }: Sheet): string {
  return `sheet ${index} of ${count}`;
}

/** Which of two sheets that make one ink is printed first; null for a sheet that prints its ink alone. */
export function partWords({ part, index }: Sheet): string | null {
  if (part === null) return null;
  return part === 'A'
    ? `Two sheets print this ink: this one first, sheet ${index + 1} on the same dots when it is dry.`
    : `Two sheets print this ink: sheet ${index - 1} first, this one on the same dots when it is dry.`;
}

/** What a drawing says of its ties, weak places and loose paper, in whole sentences; null where there are none. */
export function tieWords(sheet: JudgedSheet): string | null {
  const names = paperNames(sheet);
  const printed = tiesOf(names, 'printed');
  const release = tiesOf(names, 'release');
  const weak = names.weak.length + names.moreWeak;
  const loose = names.islands.length + names.moreIslands;
  const sentences = [
    ...(loose > 0
      ? [`${counted(loose, 'piece of paper falls', 'pieces of paper fall')} out if cut so: see the cut guide first.`]
      : []),
    ...(printed.length > 0 ? [`Ties ${rangeOf(printed)} (heavy bars) stay: never cut them.`] : []),
    ...(release.length > 0 ? [`Ties ${rangeOf(release)} (double bars): not yet, they wait for the release cut.`] : []),
    ...(weak > 0 ? [`${counted(weak, 'weak place')}: see the cut guide before cutting.`] : []),
  ];
  return sentences.length > 0 ? sentences.join(' ') : null;
}

/** Ties by their names, all places of a tie as one: `R1`, `R1 and R2`, `R1 to R12`, `R1–R4, R9`. */
export function rangeOf(named: readonly { readonly tie: { readonly id: string } }[]): string {
  const ids = [...new Set(named.map(({ tie }) => tie.id))].sort((a, b) => tieNumber(a) - tieNumber(b));
  const [first, last] = [ids[0] ?? '', ids[ids.length - 1] ?? ''];
  if (ids.length < 2) return first;
  if (ids.length === 2) return `${first} and ${last}`;
  return tieNumber(last) - tieNumber(first) === ids.length - 1 ? `${first} to ${last}` : nameRanges(ids);
}

/** `34 % of the design; most, 51 %, in the band 312 to 362 mm down`. */
export function cutAwayWords({ share, weakestBand: band, bandShare }: CutAway, sheet: Sheet): string {
  const across = sheet.field.x1 - sheet.field.x0;
  // The band runs across the whole field one way or the other.
  const level = band.x1 - band.x0 >= 0.99 * across;
  const [from, to] = level ? [band.y0, band.y1] : [band.x0, band.x1];
  const way = level ? 'down' : 'from the left';
  return `${percent(share)} of the design; most, ${percent(bandShare)}, in the band ${from.toFixed(0)} to ${to.toFixed(0)} mm ${way}`;
}

function percent(share: number): string {
  // What is not nothing must not read as nothing.
  return share > 0 && share < 0.01 ? 'less than 1 %' : shareText(share);
}

/** `412 corners; about 2 h 10 min and 5 blades: an estimate from your own pace`, or from whose pace it is. */
export function workWords({ corners, minutes, blades, tightPlaces, jerks }: CuttingWork, pace?: Pace): string {
  const whole = Math.max(1, Math.ceil(blades));
  const hard = [
    counted(corners, 'corner'),
    ...(tightPlaces > 0 ? [counted(tightPlaces, 'tight bend')] : []),
    ...(jerks > 0 ? [counted(jerks, 'jerky stretch', 'jerky stretches')] : []),
  ];
  const blade = counted(whole, 'blade');
  return `${hard.join(', ')}; about ${timeWords(minutes)} and ${blade}: ${paceWords(pace)}`;
}

/** Whose pace an estimate is made from: the cutter's, or ours until that is known. */
function paceWords(pace: Pace = USUAL_PACE): string {
  if (!isUsualPace(pace)) return 'an estimate from your own pace';
  return `our estimate, at ${pace.mmPerMinute} mm a minute and ${pace.secondsPerCorner} s a corner, until you time yourself`;
}

/** `45 min`, `2 h 10 min`: above an hour to ten minutes, as no estimate is better. */
export function timeWords(minutes: number): string {
  const whole = Math.max(1, Math.ceil(minutes));
  if (whole < 60) return `${whole} min`;
  const tens = Math.round(minutes / 10) * 10;
  const rest = tens % 60;
  return `${Math.floor(tens / 60)} h${rest > 0 ? ` ${rest} min` : ''}`;
}

/** Where a place is on the sheet, as a ruler finds it: `120 mm right, 340 mm down`. */
export function placeWords({ x, y }: { readonly x: number; readonly y: number }): string {
  return `${x.toFixed(0)} mm right, ${y.toFixed(0)} mm down`;
}

/** True where ties wait for a release cut. */
export function hasRelease(sheet: Sheet): boolean {
  return sheet.ties.some(({ kind }) => kind === 'release');
}

/** What a zone's list says of the weak places and ties in the zone; null where there are none. */
export function zonePaperWords(letter: string, names: PaperNames): string | null {
  const weak = names.weak.filter(({ zone }) => zone === letter).map(({ name }) => name);
  const ties = names.ties.filter(({ zone }) => zone === letter);
  const kind = (one: 'printed' | 'release') => ties.filter(({ tie }) => tie.kind === one);
  const [printed, release] = [kind('printed'), kind('release')];
  const sentences = [
    ...(weak.length > 0 ? [`Weak: ${weak.join(', ')}. Strip on first, cut next to them last.`] : []),
    ...(printed.length > 0 ? [`Leave ${rangeOf(printed)} standing.`] : []),
    ...(release.length > 0 ? [`Leave ${rangeOf(release)} until the release cut.`] : []),
  ];
  return sentences.length > 0 ? sentences.join(' ') : null;
}
