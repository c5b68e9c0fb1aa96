import { type Box, type Clip, type Contour, contoursBox, type Motif, type Stroke } from '@okuri/core';
import type { ClothTile } from '@okuri/core/inside';

/** The outlines of a unit in a few buffers: tens of thousands of them cross from thread to thread in no time. mm on the unit. */
export interface UnitOutlines {
  /** Of all outlines one after another: a start, then three points for every curve. */
  readonly coords: Float64Array;
  /** Where each outline begins in `coords`, and where the last one ends. */
  readonly starts: Uint32Array;
  /** 1 for a closed one. */
  readonly closed: Uint8Array;
  /** The first outline of each layer, and one past the last: what is painted at once. Layers lie over one another in their order. */
  readonly layers: Uint32Array;
  /** Which of the inks each layer has. */
  readonly inkOf: Uint16Array;
  /** 1 for a layer filled by the even-odd rule. */
  readonly evenOdd: Uint8Array;
  readonly inks: readonly string[];
  /** Layers with a pen or clips, by their place. */
  readonly special: ReadonlyMap<number, { readonly stroke: Stroke | null; readonly clips: readonly Clip[] }>;
  /** What the outlines cover; null where there are none. */
  readonly box: Box | null;
}

interface Layer {
  readonly ink: string;
  readonly contours: readonly Contour[];
  readonly evenOdd: boolean;
  readonly stroke: Stroke | null;
  readonly clips: readonly Clip[];
}

/** A drawing as it was read, shape by shape. */
export function motifOutlines({ shapes }: Motif): UnitOutlines {
  return outlinesOf(
    shapes.map(({ ink, contours, rule, stroke, clips }) => ({
      ink,
      contours,
      evenOdd: rule === 'evenodd',
      stroke: stroke ?? null,
      clips,
    })),
  );
}

/** The openings of a whole tile, one layer an ink. */
export function tileOutlines({ inks }: ClothTile): UnitOutlines {
  return outlinesOf(inks.map(({ ink, contours }) => ({ ink, contours, evenOdd: false, stroke: null, clips: [] })));
}

function outlinesOf(layers: readonly Layer[]): UnitOutlines {
  const contours = layers.flatMap((layer) => layer.contours);
  const inks = [...new Set(layers.map(({ ink }) => ink))];
  const places = new Map(inks.map((ink, k) => [ink, k]));
  const starts = new Uint32Array(contours.length + 1);
  contours.forEach(({ coords }, k) => {
    starts[k + 1] = starts[k] + coords.length;
  });
  const coords = new Float64Array(starts[contours.length]);
  contours.forEach((contour, k) => {
    coords.set(contour.coords, starts[k]);
  });
  const firsts = new Uint32Array(layers.length + 1);
  layers.forEach((layer, k) => {
    firsts[k + 1] = firsts[k] + layer.contours.length;
  });
  const special = new Map<number, { readonly stroke: Stroke | null; readonly clips: readonly Clip[] }>();
  layers.forEach(({ stroke, clips }, k) => {
    if (stroke !== null || clips.length > 0) special.set(k, { stroke, clips });
  });
  return {
    coords,
    starts,
    closed: Uint8Array.from(contours, ({ closed }) => (closed ? 1 : 0)),
    layers: firsts,
    inkOf: Uint16Array.from(layers, ({ ink }) => places.get(ink) as number),
    evenOdd: Uint8Array.from(layers, ({ evenOdd }) => (evenOdd ? 1 : 0)),
    inks,
    special,
    box: contoursBox(contours),
  };
}
