declare module 'polylabel' {
  /** The pole of inaccessibility of a polygon (outer ring first), to a precision in its units. */
  export default function polylabel(
    polygon: readonly (readonly (readonly [number, number])[])[],
    precision?: number,
  ): [number, number] & { distance: number };
}
