import type { Job } from '@okuri/core';
import { makeLattice } from '@okuri/core/inside';
import { useCallback, useEffect, useMemo, useState } from 'preact/hooks';
import type { Camera } from '../canvas/camera';
import { enlarged, keptPicture, pictureOfMotif } from '../canvas/unit-picture';
import { useThreads } from '../engine/use-engine';
import { clothPlane } from '../marks/plane';
import { useStudio } from '../state/use-studio';
import { useJobNow } from '../steps/use-job';
import { placeOf } from '../words/joins';
import { stencilIndex } from '../words/stencils';
import { drawClothMarks } from './cloth-marks';
import { Stage, type StageView } from './stage';
import { useTieLayer } from './use-tie-layer';

/** px that what one goes to takes up. */
const GO_TO_PX = 700;

/** The repeat over the job's cloth. A change of the job shows at once as a first look, and as it will be when all is worked out. */
export function ClothView() {
  const { state } = useStudio();
  const { painter } = useThreads();
  const { read, checked, stale, goTo } = state;
  const [camera, setCamera] = useState<Camera | null>(null);
  const job = useJobNow();
  const tile = useMemo(() => (checked === null ? null : keptPicture(checked)), [checked]);
  // The drawing as it was read has no ties in it: while one is moved the cloth stays as it was.
  const tiesOnly = useMemo(
    () => stale && checked !== null && job !== null && sameBut(['ties', 'takenAt'], checked.job, job),
    [stale, checked, job],
  );
  const source = useMemo(() => {
    if (job === null) return null;
    if ((!stale || tiesOnly) && tile !== null) return painter.cloth(tile, job.cloth);
    if (read === null) return tile === null ? null : painter.cloth(tile, job.cloth);
    const was = read.motif.frame;
    const widthMm = job.size.widthMm ?? was.widthMm;
    // The whole pattern larger or smaller, as far as it is known.
    if (
      checked !== null &&
      tile !== null &&
      sameBut(['size', 'takenAt'], checked.job, job) &&
      job.size.heightMm === null
    ) {
      return painter.cloth(enlarged(tile, widthMm / checked.lattice.widthMm), job.cloth);
    }
    // Artwork is scaled evenly by the width; the height only frames it.
    const scale = widthMm / was.widthMm;
    const lattice = makeLattice(job.repeat, widthMm, job.size.heightMm ?? was.heightMm * scale);
    return painter.cloth({ ...pictureOfMotif(read.motif, job, read.lattice), lattice, scale }, job.cloth);
  }, [job, stale, tiesOnly, tile, checked, read, painter]);
  const plane = useMemo(
    () => (checked === null || job === null ? null : clothPlane(checked.lattice, job.cloth)),
    [checked, job?.cloth.widthMm, job?.cloth.lengthMm],
  );
  const sheets = checked?.sheets ?? [];
  const ink = sheets[stencilIndex(sheets, state.stencil)]?.ink ?? null;
  const ties = useTieLayer(stale && !tiesOnly ? null : plane, null, ink);
  useEffect(() => {
    if (goTo?.view === 'cloth' && goTo.at !== null) setCamera({ at: goTo.at, pxPerMm: GO_TO_PX / goTo.widthMm });
  }, [goTo]);
  const over = useCallback(
    (context: CanvasRenderingContext2D, view: StageView) => {
      if (checked === null || stale) return;
      const { lattice, sheets, findings, joins } = checked;
      const { widthMm, lengthMm } = checked.job.cloth;
      const { look, finding, join } = state;
      const [sheet] = sheets;
      const dots = look.dots && sheet !== undefined && sheet.across * sheet.down === 1 ? sheet.dots : [];
      drawClothMarks(context, view, {
        cloth: { x0: 0, y0: 0, x1: widthMm, y1: lengthMm },
        lattice,
        seams: look.seams,
        dots: dots.filter(({ lead }) => lead).map(({ at }) => ({ x: at.x - sheet.field.x0, y: at.y - sheet.field.y0 })),
        findings: look.findings ? findings : [],
        at:
          finding !== null
            ? (findings[finding]?.atMm ?? null)
            : join !== null && joins[join]
              ? placeOf(joins[join], lattice)
              : null,
      });
    },
    [checked, stale, state.look, state.finding, state.join],
  );
  if (job === null) return <p class="view-empty">The cloth is being laid out …</p>;
  return (
    <div class={tiesOnly ? 'view-late' : undefined}>
      <Stage
        label="The cloth with the repeat on it."
        whole={{ x0: 0, y0: 0, x1: job.cloth.widthMm, y1: job.cloth.lengthMm }}
        camera={camera}
        onCamera={setCamera}
        source={source}
        over={(context, view) => {
          over(context, view);
          ties?.draw(context, view);
        }}
        onPick={(place, view) => ties?.pick(place, view)}
        {...(ties === null ? {} : { laid: ties.laid, aims: ties.aims })}
      />
    </div>
  );
}

/** Whether two jobs differ in nothing but these keys. */
function sameBut(keys: readonly (keyof Job)[], a: Job, b: Job): boolean {
  const rest = (job: Job) =>
    JSON.stringify(job, (key, value) => (key === 'date' || keys.includes(key as keyof Job) ? null : value));
  return rest(a) === rest(b);
}
