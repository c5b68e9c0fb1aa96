import type { Finding, Sheet } from '@okuri/core';
import { sheetPlane, toShown } from '../marks/plane';
import { findingOf, placeOfFinding, type SheetPlace, sheetPlaces } from '../marks/sheet-places';
import { stencilIndex } from '../words/stencils';
import type { Studio, StudioState, ViewName } from './studio';

/** How much is seen around a finding that one goes to, mm. */
const AROUND_MM = 60;

/** The view in which a finding shows best: joins and spill on the cloth; paper, cuts, dots and what a proof changed on the sheet. */
export function viewOfFinding({ topic }: Pick<Finding, 'topic'>): ViewName {
  return topic === 'paper' || topic === 'margin' || topic === 'proof' ? 'sheet' : 'cloth';
}

/** Place among the sheets of the one on which a finding lies; the one at hand where it is about all of them. */
export function stencilOfFinding({ measure }: Finding, sheets: readonly Sheet[], atHand: number): number {
  const named = sheets.findIndex(({ index }) => index === measure?.sheet);
  return named >= 0 ? named : stencilIndex(sheets, atHand);
}

/** Chooses a finding of the list (`index` is its place in it) and takes the view to it; the open step stays open. */
export function goToFinding(studio: Studio, index: number): void {
  const { checked, stencil: atHand, goTo } = studio.state;
  const finding = checked?.findings[index];
  if (checked === null || finding === undefined) return;
  const view = viewOfFinding(finding);
  const stencil = stencilOfFinding(finding, checked.sheets, atHand);
  const sheet = checked.sheets[stencil];
  const chosen: Partial<StudioState> = { finding: index, join: null, place: null, view, sheetLook: 'cut' };
  const { atMm } = finding;
  if (view === 'cloth' || sheet === undefined) {
    studio.set({ ...chosen, goTo: atMm === null ? goTo : { view: 'cloth', at: atMm, widthMm: AROUND_MM } });
    return;
  }
  const place = placeOfFinding(finding, sheet, sheetPlaces(sheet, checked.findings));
  const at = atMm && toShown(sheetPlane(sheet, checked.lattice), atMm);
  studio.set({
    ...chosen,
    stencil,
    place: place?.name ?? null,
    goTo: at === null ? goTo : { view: 'sheet', at, widthMm: AROUND_MM },
  });
}

/** Chooses a place of the sheet at hand, and the finding of the list that tells of it; with `moves` the view goes there. */
export function choosePlace(studio: Studio, place: SheetPlace, { moves }: { readonly moves: boolean }): void {
  const { checked, stencil, goTo } = studio.state;
  const sheet = checked?.sheets[stencilIndex(checked.sheets, stencil)];
  if (checked === null || sheet === undefined) return;
  studio.set({
    place: place.name,
    finding: findingOf(place, sheet, checked.findings),
    join: null,
    tie: null,
    ...(moves
      ? {
          view: 'sheet' as const,
          goTo: {
            view: 'sheet' as const,
            at: toShown(sheetPlane(sheet, checked.lattice), place.at),
            widthMm: AROUND_MM,
          },
        }
      : { goTo }),
  });
}
