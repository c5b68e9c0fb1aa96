import { type Ink, InputError, inVoice, type Point } from '@okuri/core';
import { middle } from '@okuri/core/inside';
import type { ComponentChildren } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import { seen, toPlane, toWindow } from '../canvas/camera';
import { drawTies } from '../marks/draw-ties';
import { handlePlaces } from '../marks/handle-places';
import { onUnit, type Plane, stepped, toPattern, toShown } from '../marks/plane';
import {
  isSameTie,
  type ShownTie,
  shownTies,
  type TieCopy,
  type TieEndName,
  tieCopies,
  tieNear,
} from '../marks/ties-shown';
import { presentJob } from '../state/present-job';
import type { Studio } from '../state/studio';
import { drawnKind, endEdit, type JobEdit, newTieEdit, refuseUnreadable } from '../state/tie-edits';
import { areTiesMoving } from '../state/unit-size';
import { useStudio } from '../state/use-studio';
import { useJobNow } from '../steps/use-job';
import type { StageView } from './stage';
import { TieCross } from './tie-cross';
import { TieHandle } from './tie-handle';

/** Ties over a view: drawn, chosen, moved and set by hand. */
export interface TieLayer {
  readonly draw: (context: CanvasRenderingContext2D, view: StageView) => void;
  /** A press in the window; true where it chose or set something. */
  readonly pick: (place: Point, view: StageView) => boolean;
  readonly laid: (view: StageView) => ComponentChildren;
  /** A press sets an end. */
  readonly aims: boolean;
}

/** Handles are so large, and a press counts so near to a tie, px: by mouse and by finger. */
const FINE = { handlePx: 24, pressPx: 12 } as const;
const COARSE = { handlePx: 44, pressPx: 22 } as const;
/** Between an end with its bars and the handle beyond it, px. */
const GAP_PX = 6;

/** An end that is being moved, not yet in the job. */
interface Moved {
  readonly tie: ShownTie;
  readonly end: TieEndName;
  readonly at: Point;
}

/**
 * The ties of the job and the suggested ones over a plane, in the step that is about them; null in any other. `ink` null shows those of all
 * inks; `newInk` is the one that a new tie is drawn for.
 *
 * Long because every gesture shares the tie at hand.
 */
export function useTieLayer(plane: Plane | null, ink: Ink | null, newInk: Ink | null): TieLayer | null {
  const { studio, state } = useStudio();
  const job = useJobNow();
  const [moved, setMoved] = useState<Moved | null>(null);
  const [cross, setCross] = useState<Point | null>(null);
  const { ties: reply, leftOut, tie: chosen, drawnTie } = state;
  const known = useMemo(
    () => (job === null ? [] : shownTies(job, reply, { ink, leftOut })),
    [job, reply, ink, leftOut],
  );
  if (plane === null || job === null || state.step !== 'paper' || areTiesMoving(state)) return null;
  const { lattice } = plane;
  const ties =
    moved === null ? known : known.map((tie) => (isSameTie(tie, moved.tie) ? { ...tie, [moved.end]: moved.at } : tie));
  const { handlePx, pressPx } = matchMedia('(pointer: coarse)').matches ? COARSE : FINE;

  const chosenCopy = (copies: readonly TieCopy[], view: StageView): TieCopy | null => {
    const own = copies.filter(({ tie }) => isSameTie(tie, chosen));
    const step = chosen?.step ?? null;
    const named = step === null ? undefined : own.find((copy) => copy.step.i === step.i && copy.step.j === step.j);
    return named ?? tieNear(own, view.camera.at, Infinity);
  };
  const inWindow = (p: Point, view: StageView): Point => toWindow(view.camera, p, view.window);
  const done = (end: TieEndName, tie: ShownTie, at: Point, joins: boolean): void => {
    setMoved(null);
    const { jobText } = studio.project;
    const now = presentJob(jobText);
    const before = known.find((one) => isSameTie(one, tie));
    if (now === null || before === undefined) return;
    // It may have been taken out while it was moved.
    if (tie.stands && !now.ties[tie.ink]?.some(({ id }) => id === tie.id)) return;
    if (change(studio, endEdit(jobText, now, before, end, at), joins)) {
      studio.set({ tie: { ...nameOf(before), stands: true, step: chosen?.step ?? null } });
    }
  };
  const setEnd = (at: Point): void => {
    setCross(null);
    const from = drawnTie?.from ?? null;
    if (from === null) {
      studio.set({ drawnTie: { from: at } });
      return;
    }
    if (newInk === null) return;
    const { step } = onUnit(lattice, middle(from, at));
    const { path, value, ...name } = newTieEdit(job, known, {
      ink: newInk,
      kind: drawnKind(job),
      from: stepped(lattice, from, step, -1),
      to: stepped(lattice, at, step, -1),
    });
    if (change(studio, { path, value }, false)) studio.set({ drawnTie: null, tie: { ...name, step } });
    else studio.set({ drawnTie: { from: null } });
  };

  return {
    aims: drawnTie !== null,
    draw: (context, view) => {
      const copies = tieCopies(ties, plane, seen(view.camera, view.window));
      const own = chosenCopy(copies, view);
      const widthPx = job.paper.tie.widthMm * view.camera.pxPerMm * plane.scale.x;
      drawTies(
        context,
        copies.map((copy) => ({
          name: copy.tie.id,
          kind: copy.tie.kind,
          stands: copy.tie.stands,
          from: inWindow(copy.from, view),
          to: inWindow(copy.to, view),
          widthPx,
          chosen: copy === own,
        })),
      );
      if (drawnTie?.from) drawEnd(context, inWindow(toShown(plane, drawnTie.from), view));
    },
    pick: (place, view) => {
      const at = toPlane(view.camera, place, view.window);
      if (drawnTie !== null) {
        setEnd(toPattern(plane, at));
        return true;
      }
      const copies = tieCopies(ties, plane, seen(view.camera, view.window));
      const found = tieNear(copies, at, pressPx / view.camera.pxPerMm);
      if (found === null) return false;
      studio.set({ tie: { ...nameOf(found.tie), step: found.step }, place: null, finding: null });
      return true;
    },
    laid: (view) => {
      const pxPerMm = { x: view.camera.pxPerMm * plane.scale.x, y: view.camera.pxPerMm * plane.scale.y };
      if (drawnTie !== null) {
        const at = inSight(cross === null ? null : toShown(plane, cross), view) ?? view.camera.at;
        const onPattern = toPattern(plane, at);
        const which = drawnTie.from === null ? 'first' : 'second';
        return (
          <TieCross
            key={which}
            label={`Cross for the ${which} end of the new tie. Arrow keys move it by 0.5 mm, with Shift by 5 mm; Enter sets the end, Escape gives up.`}
            place={inWindow(at, view)}
            at={onPattern}
            onMove={setCross}
            onSet={setEnd}
            onGiveUp={() => {
              setCross(null);
              studio.set({ drawnTie: null });
            }}
          />
        );
      }
      const copy = chosenCopy(tieCopies(ties, plane, seen(view.camera, view.window)), view);
      if (copy === null) return null;
      const places = handlePlaces(inWindow(copy.from, view), inWindow(copy.to, view), handlePx / 2 + GAP_PX);
      return (
        <>
          <p class="unseen" id="tie-handle-keys">
            Arrow keys move it by 0.5 mm, with Shift by 5 mm.
          </p>
          {(['from', 'to'] as const).map((end) => (
            <TieHandle
              key={`${copy.tie.ink} ${copy.tie.id} ${end}`}
              label={`${end === 'from' ? 'First' : 'Second'} end of tie ${copy.tie.id}, at ${copy.tie[end].x.toFixed(1)}, ${copy.tie[end].y.toFixed(1)} mm`}
              describedBy="tie-handle-keys"
              place={places[end]}
              end={copy.tie[end]}
              pxPerMm={pxPerMm}
              onMove={(at) => setMoved(at === null ? null : { tie: copy.tie, end, at })}
              onDone={(at, joins) => done(end, copy.tie, at, joins)}
            />
          ))}
        </>
      );
    },
  };
}

function nameOf({ ink, id, stands }: ShownTie) {
  return { ink, id, stands };
}

/** Makes a change of the job; what could not be read afterwards is said instead. False where it was. */
function change(studio: Studio, edit: JobEdit, joins: boolean): boolean {
  if (areTiesMoving(studio.state)) return false;
  try {
    refuseUnreadable(studio.project.jobText, edit);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    studio.set({ said: inVoice(error, 'window') });
    return false;
  }
  studio.edit(edit.path, edit.value, { joins });
  return true;
}

function inSight(p: Point | null, view: StageView): Point | null {
  if (p === null) return null;
  const { x0, y0, x1, y1 } = seen(view.camera, view.window);
  return p.x > x0 && p.x < x1 && p.y > y0 && p.y < y1 ? p : null;
}

/** The end that was set first, px of the window. */
function drawEnd(context: CanvasRenderingContext2D, { x, y }: Point): void {
  for (const [width, colour] of [
    [4, '#ffffff'],
    [2, '#000000'],
  ] as const) {
    context.beginPath();
    context.moveTo(x - 8, y - 8);
    context.lineTo(x + 8, y + 8);
    context.moveTo(x - 8, y + 8);
    context.lineTo(x + 8, y - 8);
    context.setLineDash([]);
    context.lineWidth = width;
    context.strokeStyle = colour;
    context.stroke();
  }
}
