import type { Job } from '@okuri/core';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { pictureOfMotif } from '../canvas/unit-picture';
import { LengthField } from '../controls/length-field';
import { useThreads } from '../engine/use-engine';
import { useStudio } from '../state/use-studio';
import { lengthWords } from '../words/lengths';

/** px */
const THUMBNAIL = { width: 240, height: 180 } as const;

/** What was read of a new drawing, and the one thing that can't be told from it. */
export function DarkQuestion() {
  const { studio, state } = useStudio();
  const { read, asksDark, units } = state;
  const dialog = useRef<HTMLDialogElement>(null);
  const shows = asksDark && read !== null && read.job.motif === state.history.present.motif.name;
  useEffect(() => {
    if (shows && dialog.current?.open === false) dialog.current.showModal();
    if (!shows && dialog.current?.open === true) dialog.current.close();
  }, [shows]);
  const answer = (drawn: Job['drawn']): void => {
    studio.edit(['drawn'], drawn);
    studio.set({ asksDark: false });
  };
  if (!shows || read === null) return <dialog ref={dialog} />;
  const { widthMm, heightMm } = read.motif.frame;
  return (
    <dialog
      ref={dialog}
      class="question"
      aria-labelledby="question-title"
      onCancel={() => studio.set({ asksDark: false })}
    >
      <h2 id="question-title" tabIndex={-1} autofocus>
        {read.job.motif} is read as one unit of {lengthWords(widthMm, units)} × {lengthWords(heightMm, units)}
      </h2>
      <LengthField of="width" label="Width of the unit, if that is not right" mm={widthMm} />
      <p>What is the dark of the drawing?</p>
      <div class="question-row">
        <button type="button" onClick={() => answer('cut')}>
          <Thumbnail drawn="cut" />
          <strong>What you cut</strong>
          <span>The knife takes the dark out; with resist paste it stays pale.</span>
        </button>
        <button type="button" onClick={() => answer('cloth')}>
          <Thumbnail drawn="cloth" />
          <strong>What shall be dark on the cloth</strong>
          <span>The dark takes the dye; with resist paste the knife takes out the rest.</span>
        </button>
      </div>
    </dialog>
  );
}

/** A piece of the cloth as it would come out. */
function Thumbnail({ drawn }: { readonly drawn: Job['drawn'] }) {
  const { read } = useStudio().state;
  const { painter } = useThreads();
  const canvas = useRef<HTMLCanvasElement>(null);
  const [image, setImage] = useState<ImageBitmap | null>(null);
  const source = useMemo(() => {
    if (read === null) return null;
    const { widthMm, heightMm } = read.lattice;
    const area = { widthMm: 3 * widthMm, lengthMm: 3 * heightMm };
    return painter.cloth(pictureOfMotif(read.motif, { ...read.job, drawn }, read.lattice), area);
  }, [read, drawn, painter]);
  useEffect(() => {
    if (source === null || read === null) return;
    const { widthMm, heightMm } = read.lattice;
    const pxPerMm = Math.min(THUMBNAIL.width / (1.6 * widthMm), THUMBNAIL.height / (1.2 * heightMm));
    const camera = { at: { x: 1.5 * widthMm, y: 1.5 * heightMm }, pxPerMm };
    void source({ camera, window: THUMBNAIL, ratio: devicePixelRatio, resting: true, around: '#000' }).then(setImage);
  }, [source, read]);
  useEffect(() => {
    if (image !== null) canvas.current?.getContext('2d')?.drawImage(image, 0, 0, THUMBNAIL.width, THUMBNAIL.height);
  }, [image]);
  return <canvas ref={canvas} width={THUMBNAIL.width} height={THUMBNAIL.height} />;
}
