import { rounded } from '../units/round.js';
import type { Corner, Shape, Span } from './types.js';

const PLACES: ReadonlyMap<string, string> = new Map<Corner, string>([
  ['upperLeft', 'upper left'],
  ['upperRight', 'upper right'],
  ['lowerRight', 'lower right'],
  ['lowerLeft', 'lower left'],
]);

const SPAN_NAMES: Readonly<Record<Span, string>> = {
  top: 'top side',
  right: 'right side',
  bottom: 'bottom side',
  left: 'left side',
  falling: 'falling diagonal',
  rising: 'rising diagonal',
};

/** A hole for a sentence: `the upper left hole`, `hole A (upper left)`, or `dot M` for one between the corners. */
export function holeName(hole: string, names: Readonly<Record<Corner, string>> | null): string {
  const place = PLACES.get(hole);
  if (place === undefined) return `dot ${hole}`;
  return names === null ? `the ${place} hole` : `hole ${names[hole as Corner]} (${place})`;
}

/** A distance for a sentence: `top side`, `falling diagonal`. */
export function spanName(span: Span): string {
  return SPAN_NAMES[span];
}

export function degText(deg: number): string {
  return `${rounded(deg, 2)}°`;
}

/** The kind of a shape for a sentence. */
export function kindText({ kind, parallel }: Shape): string {
  if (kind === 'general') return 'a quadrilateral of no special kind';
  if (kind !== 'trapezoid') return `a ${kind}`;
  return `a trapezoid (${parallel === 'top-bottom' ? 'top and bottom' : 'left and right'} parallel)`;
}
