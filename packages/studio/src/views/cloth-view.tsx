import { makeLattice, readJob } from '@okuri/core';
import { useCallback, useEffect, useMemo, useState } from 'preact/hooks';
import type { Camera } from '../canvas/camera';
import { pictureOfMotif, pictureOfTile } from '../canvas/unit-picture';
import { useThreads } from '../engine/use-engine';
import { useStudio } from '../state/use-studio';
import { placeOf } from '../words/joins';
import { drawClothMarks } from './cloth-marks';
import { Stage, type StageView } from './stage';

/** px that what one goes to takes up. */
const GO_TO_PX = 700;

/** The repeat over the job's cloth. A change of the job shows at once as a first look, and as it will be when all is worked out. */
export function ClothView() {
  const { state } = useStudio();
  const { painter } = useThreads();
  const { read, checked, stale, goTo, history } = state;
  const [camera, setCamera] = useState<Camera | null>(null);
  const { jobText } = history.present;
  // What the job says now, long before the engine has read it.
  const job = useMemo(() => {
    try {
      return readJob(jobText, { file: 'the job' }).job;
    } catch {
      return read?.job ?? null;
    }
  }, [jobText, read]);
  const motif = useMemo(
    () => (read === null ? null : pictureOfMotif(read.motif, { ...read.job, ...(job ?? {}) }, read.lattice)),
    [read, job],
  );
  const tile = useMemo(() => (checked === null ? null : pictureOfTile(checked.tile, checked.job)), [checked]);
  const source = useMemo(() => {
    if (job === null) return null;
    if (!stale && tile !== null) return painter.cloth(tile, job.cloth);
    if (read === null || motif === null) return tile === null ? null : painter.cloth(tile, job.cloth);
    // Artwork is scaled evenly by the width; the height only frames it.
    const was = read.motif.frame;
    const scale = (job.size.widthMm ?? was.widthMm) / was.widthMm;
    const lattice = makeLattice(job.repeat, was.widthMm * scale, job.size.heightMm ?? was.heightMm * scale);
    return painter.cloth(motif, job.cloth, { lattice, scale });
  }, [job, stale, tile, motif, read, painter]);
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
    <Stage
      label="The cloth with the repeat on it."
      whole={{ x0: 0, y0: 0, x1: job.cloth.widthMm, y1: job.cloth.lengthMm }}
      camera={camera}
      onCamera={setCamera}
      source={source}
      over={over}
    />
  );
}
