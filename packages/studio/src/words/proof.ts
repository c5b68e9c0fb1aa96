import type { Sheet } from '@okuri/core';
import type { FirstCutEnd, PrintDifference, SheetJoin } from '@okuri/core/inside';
import { lengthWords, type Units } from './lengths';

/** Where an end lies and what comes to it. */
export function endWords(end: SheetJoin | FirstCutEnd, { field }: Pick<Sheet, 'field'>, units: Units): string {
  const [left, top] = [lengthWords(end.at.x - field.x0, units), lengthWords(end.at.y - field.y0, units)];
  if (!('seam' in end)) return `stop of ${end.opening}, ${left} from the left, ${top} from the top`;
  const down = end.seam === 'right';
  const edge = down ? (end.edge === 'begins' ? 'upper' : 'lower') : end.edge === 'begins' ? 'left' : 'right';
  const where = down ? `right side, ${top} down` : `bottom, ${left} across`;
  return `${where}: ${edge} edge of ${end.own}${end.partner === null ? '' : `, meets ${end.partner}`}`;
}

/** Whether an end can be measured on a proof of the first cut. */
export function isMeasurable(end: SheetJoin | FirstCutEnd): boolean {
  return !('seam' in end) || (end.partner !== null && end.leadCut !== 'second');
}

/** Why an end has no offset. */
export function plannedWords(end: SheetJoin): string {
  return end.partner === null ? 'meets nothing in the plan' : 'as planned: its lead edge waits in the held margin';
}

/** A difference, not a fault. */
export function differenceWords({ kind, number, areaMm2, deepMm }: PrintDifference): string {
  const what = kind === 'missing' ? `planned, not printed: of ${number}` : `printed, not planned: beside ${number}`;
  return `${what}, ${areaMm2.toFixed(1)} mm², up to ${deepMm.toFixed(1)} mm deep`;
}
