import fc from 'fast-check';

// One drawing written in many ways: as different programs export it.

type Place = readonly [x: number, y: number];

/** A side of a subpath: where it goes, and its handles where it is a curve. */
interface PathSide {
  readonly handles: readonly Place[];
  readonly to: Place;
}

/** A closed subpath: its last side ends on its start. */
export type Subpath = { readonly start: Place; readonly sides: readonly PathSide[] };

export interface PathForm {
  readonly relative: boolean;
  readonly decimals: number;
  /** `z`: by the letter alone; `exact`: its last side ends on its start; `rounded`: it ends beside it by `missMm`; both with or without the letter. */
  readonly closing: 'z' | 'exact' | 'exact-z' | 'rounded' | 'rounded-z';
  readonly missMm: number;
  /** Which node comes first. */
  readonly first: number;
  readonly reversed: boolean;
}

export const PLAIN_FORM: PathForm = {
  relative: false,
  decimals: 9,
  closing: 'exact-z',
  missMm: 0,
  first: 0,
  reversed: false,
};

/** The forms of a filled path that all mean the same. Four decimals of up to 60 sides add up to less than 0.005 mm. */
export const pathForms = fc.record<PathForm>({
  relative: fc.boolean(),
  decimals: fc.integer({ min: 4, max: 9 }),
  closing: fc.constantFrom('z', 'exact', 'exact-z', 'rounded', 'rounded-z'),
  missMm: fc.constantFrom(1e-12, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5),
  first: fc.nat(40),
  reversed: fc.boolean(),
});

/** The data of a path under a form. Relative numbers are rounded one by one, so that what they lead to strays as it does in real files. */
export function pathData(subpaths: readonly Subpath[], form: PathForm): string {
  let data = '';
  let at: Place = [0, 0];
  for (const given of subpaths) {
    const subpath = from(form.reversed ? backward(given) : given, form.first);
    data += subpathData(subpath, at, form);
    // A closed subpath ends on its start, whether by the letter or by its last side.
    at = subpath.start;
  }
  return data;
}

function subpathData({ start, sides }: Subpath, from: Place, form: PathForm): string {
  const text = (v: number): string => String(Number(v.toFixed(form.decimals)));
  // Where a reader has got to is the sum of rounded numbers, but a writer takes its differences from the true places.
  let at = from;
  const write = (p: Place): string =>
    form.relative ? `${text(p[0] - at[0])} ${text(p[1] - at[1])}` : `${text(p[0])} ${text(p[1])}`;
  let data = (form.relative ? 'm' : 'M') + write(start);
  at = start;
  sides.forEach(({ handles, to }, k) => {
    const last = k === sides.length - 1;
    if (last && form.closing === 'z' && handles.length === 0) return;
    const miss = last && form.closing.startsWith('rounded') ? form.missMm : 0;
    const letter = ['l', 'q', 'c'][handles.length];
    const [x, y] = write(to).split(' ').map(Number);
    data +=
      (form.relative ? letter : letter.toUpperCase()) +
      [...handles.map(write), `${x + miss} ${y - miss / 2}`].join(' ');
    at = to;
  });
  return form.closing === 'exact' || form.closing === 'rounded' ? data : `${data}z`;
}

function from({ start, sides }: Subpath, first: number): Subpath {
  const k = first % sides.length;
  return { start: k === 0 ? start : sides[k - 1].to, sides: [...sides.slice(k), ...sides.slice(0, k)] };
}

function backward({ start, sides }: Subpath): Subpath {
  const nodes = [start, ...sides.map(({ to }) => to)];
  return {
    start,
    sides: sides.map((_, k) => {
      const n = sides.length - 1 - k;
      return { handles: [...sides[n].handles].reverse(), to: nodes[n] };
    }),
  };
}

/** Places are given to a thousandth, so that every form can say them exactly or nearly so. */
const thousandths = (min: number, max: number) =>
  fc.integer({ min: Math.round(1000 * min), max: Math.round(1000 * max) }).map((v) => v / 1000);

/** A closed outline about a place: star-shaped nodes, joined by lines and curves. `reachMm`: how far nodes lie from it at most. */
function outlines(
  centre: { x: fc.Arbitrary<number>; y: fc.Arbitrary<number> },
  reachMm: number,
): fc.Arbitrary<Subpath> {
  const corner = fc.record({
    radius: thousandths(0.35 * reachMm, reachMm),
    kind: fc.constantFrom(0, 1, 2, 2),
    bend: thousandths(-0.35, 0.35),
    sway: thousandths(-0.35, 0.35),
  });
  return fc
    .tuple(centre.x, centre.y, fc.array(corner, { minLength: 3, maxLength: 9 }), thousandths(0, 6.28))
    .map(([x, y, corners, turn]) => {
      const round = (v: number): number => Math.round(1000 * v) / 1000;
      const node = (k: number): Place => {
        const n = k % corners.length;
        const angle = turn + (2 * Math.PI * n) / corners.length;
        const { radius } = corners[n];
        return [round(x + radius * Math.cos(angle)), round(y + radius * Math.sin(angle))];
      };
      const sides = corners.map(({ kind, bend, sway }, k): PathSide => {
        const [a, b] = [node(k), node(k + 1)];
        const beside = (t: number, off: number): Place => [
          round(a[0] + t * (b[0] - a[0]) + off * (b[1] - a[1])),
          round(a[1] + t * (b[1] - a[1]) - off * (b[0] - a[0])),
        ];
        const handles = kind === 2 ? [beside(0.3, bend), beside(0.7, sway)] : kind === 1 ? [beside(0.5, bend)] : [];
        return { handles, to: b };
      });
      return { start: node(0), sides };
    });
}

/** A filled path of one to four outlines on a unit of `widthMm × heightMm`; they may overlap, cross themselves and poke out. */
export function filledPaths(widthMm: number, heightMm: number): fc.Arbitrary<readonly Subpath[]> {
  const centre = { x: thousandths(0, widthMm), y: thousandths(0, heightMm) };
  return fc.array(outlines(centre, Math.min(widthMm, heightMm) / 4), { minLength: 1, maxLength: 4 });
}

/** The subpaths under a map of places. */
export function mappedPath(subpaths: readonly Subpath[], map: (p: Place) => Place): readonly Subpath[] {
  return subpaths.map(({ start, sides }) => ({
    start: map(start),
    sides: sides.map(({ handles, to }) => ({ handles: handles.map(map), to: map(to) })),
  }));
}
