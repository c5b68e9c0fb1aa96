import type { JudgedSheet, Point } from '@okuri/core';
import { useMemo } from 'preact/hooks';
import { seen, toWindow } from '../canvas/camera';
import { drawPlaces } from '../marks/draw-places';
import { type Plane, toShown } from '../marks/plane';
import { type SheetPlace, sheetPlaces } from '../marks/sheet-places';
import { twoTone } from '../marks/two-tone';
import { choosePlace } from '../state/go-to-finding';
import { useStudio } from '../state/use-studio';
import type { StageView } from './stage';

/** The places of a sheet over its picture. */
export interface PlaceLayer {
  readonly draw: (context: CanvasRenderingContext2D, view: StageView) => void;
  /** Chooses the place nearest to a press within so many px; false where none is. */
  readonly pick: (place: Point, view: StageView, withinPx: number) => boolean;
}

/** The middle of a mark with its name lies so much above its place, px. */
const MARK_UP_PX = 5;
const RING_PX = 16;

/** Marks of what wants a look on a sheet: those of the paper in the step Paper, those of dots in theirs; and the finding that was chosen, always. */
export function usePlaceLayer(sheet: JudgedSheet | null, plane: Plane | null): PlaceLayer {
  const { studio, state } = useStudio();
  const { checked, step, place: chosen, finding } = state;
  const findings = checked?.findings;
  const all = useMemo(
    () => (sheet === null || findings === undefined ? [] : sheetPlaces(sheet, findings)),
    [sheet, findings],
  );
  const shown = useMemo(() => all.filter(({ topic, name }) => name === chosen || topic === step), [all, step, chosen]);
  const at = (p: Point, view: StageView): Point =>
    plane === null ? p : toWindow(view.camera, toShown(plane, p), view.window);
  return {
    draw: (context, view) => {
      if (plane === null) return;
      const { x0, y0, x1, y1 } = seen(view.camera, view.window);
      const inSight = shown.filter((place) => {
        const p = toShown(plane, place.at);
        return p.x > x0 && p.x < x1 && p.y > y0 && p.y < y1;
      });
      drawPlaces(
        context,
        inSight.map((place) => ({
          name: place.name,
          severity: place.severity,
          at: at(place.at, view),
          across: place.across && [at(place.across[0], view), at(place.across[1], view)],
          chosen: place.name === chosen,
        })),
      );
      const lone = chosen === null && finding !== null ? (findings?.[finding]?.atMm ?? null) : null;
      if (lone !== null) {
        const { x, y } = toWindow(view.camera, toShown(plane, lone), view.window);
        context.beginPath();
        context.arc(x, y, RING_PX, 0, 2 * Math.PI);
        twoTone(context, [], 2);
      }
    },
    pick: (press, view, withinPx) => {
      let best: SheetPlace | null = null;
      let least = withinPx;
      for (const place of shown) {
        const p = at(place.at, view);
        const far = Math.hypot(p.x - press.x, p.y - MARK_UP_PX - press.y);
        // Of equally near ones the first is the worst.
        if (far >= least) continue;
        least = far;
        best = place;
      }
      if (best === null) return false;
      choosePlace(studio, best, { moves: false });
      return true;
    },
  };
}
