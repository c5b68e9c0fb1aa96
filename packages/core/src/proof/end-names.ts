import type { FirstCutEnd, ProofOffset, SheetEnds, SheetJoin } from './types.js';

/** An end's name as it is written now, `J3`, or as older job files have it: `X3` the third join at a seam, `Y2` the second stop. */
const NAME = /^([JXY])([1-9]\d{0,5})$/;

/** True for what can be the name of an end. */
export function isEndName(name: string): boolean {
  return NAME.test(name);
}

/** The end of a name, in any of the forms in which it may be written; undefined where the sheet has none such. */
export function endNamed({ joins, firstCutEnds }: SheetEnds, name: string): SheetJoin | FirstCutEnd | undefined {
  const [, letter, digits] = NAME.exec(name) ?? [];
  if (letter === undefined) return undefined;
  const list = { J: [...joins, ...firstCutEnds], X: joins, Y: firstCutEnds }[letter as 'J' | 'X' | 'Y'];
  return list[Number(digits) - 1];
}

/** Offsets under the names that their ends have now; those of ends that the sheet does not have keep theirs. */
export function underOwnNames(ends: SheetEnds, offsets: readonly ProofOffset[]): ProofOffset[] {
  return offsets.map((offset) => {
    const name = endNamed(ends, offset.name)?.name ?? offset.name;
    return name === offset.name ? offset : { ...offset, name };
  });
}

/** What the ends of a sheet are called: `J1 to J6`, `no J`. */
export function endNamesRange({ joins, firstCutEnds }: SheetEnds): string {
  const all = [...joins, ...firstCutEnds];
  if (all.length === 0) return 'no J';
  return all.length === 1 ? all[0].name : `${all[0].name} to ${all[all.length - 1].name}`;
}
