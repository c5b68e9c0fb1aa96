declare module 'perspective-transform' {
  /** Corners as x0, y0, …, x3, y3. */
  class PerspT {
    constructor(from: number[], to: number[]);
    transform(x: number, y: number): [number, number];
    transformInverse(x: number, y: number): [number, number];
  }
  export default PerspT;
}
