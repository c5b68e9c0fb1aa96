import { useCallback, useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Camera } from '../canvas/camera';
import { ClothPainter } from '../canvas/cloth-painter';
import type { Context } from '../canvas/paint-unit';
import { pictureOfMotif, pictureOfTile } from '../canvas/unit-picture';
import { useStudio } from '../state/use-studio';
import { Stage, type StageView } from './stage';

/** The repeat over the job's cloth. A change of the job shows as a first look at once, as it will be when all is worked out. */
export function ClothView() {
  const { state } = useStudio();
  const { read, checked, stale, goTo } = state;
  const [camera, setCamera] = useState<Camera | null>(null);
  const painter = useRef(new ClothPainter());
  const job = (stale ? read?.job : checked?.job) ?? read?.job ?? checked?.job ?? null;
  const picture = useMemo(() => {
    if (job === null) return null;
    if (!stale && checked !== null) return pictureOfTile(checked.tile, job);
    if (read !== null) return pictureOfMotif(read.motif, job, read.lattice);
    return checked === null ? null : pictureOfTile(checked.tile, job);
  }, [job, stale, checked, read]);
  const cloth = job?.cloth;
  const paint = useCallback(
    (context: Context, view: StageView) => {
      if (picture !== null && cloth !== undefined) painter.current.paint(context, picture, cloth, view);
    },
    [picture, cloth],
  );
  useEffect(() => {
    if (goTo?.view === 'cloth' && goTo.at !== null) setCamera({ at: goTo.at, pxPerMm: 700 / goTo.widthMm });
  }, [goTo]);
  if (cloth === undefined) return <p class="view-empty">The cloth is being laid out …</p>;
  return (
    <Stage
      label="The cloth with the repeat on it."
      whole={{ x0: 0, y0: 0, x1: cloth.widthMm, y1: cloth.lengthMm }}
      camera={camera}
      onCamera={setCamera}
      paint={paint}
    />
  );
}
