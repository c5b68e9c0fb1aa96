import type { Point } from '@okuri/core';
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { ArtworkFile } from '../state/project';

export interface PicturePlacesProps {
  readonly picture: ArtworkFile;
  /** What is pointed out, each place by its name. */
  readonly names: readonly string[];
  /** px of the picture at its full size, as many as were pointed out. */
  readonly places: readonly Point[];
  readonly onPlaces: (places: readonly Point[]) => void;
}

/** A picture is shown from no more pixels than this: it lies in the window's memory. */
const SHOWN_PIXELS = 24e6;
/** The glass over the chosen place: its side in px of the page, and how often a pixel of the picture is enlarged. */
const GLASS = { side: 168, times: 3 } as const;
const NUDGE = { small: 1, large: 10 } as const;

/** A picture on which places are pointed out: by pressing, or from the middle by arrow keys; the glass shows the chosen one enlarged. */
export function PicturePlaces({ picture, names, places, onPlaces }: PicturePlacesProps) {
  const { image, size, fault } = useImage(picture);
  const [chosen, setChosen] = useState(0);
  const canvas = useRef<HTMLCanvasElement>(null);
  const marks = useRef<HTMLDivElement>(null);
  const glass = useRef<HTMLCanvasElement>(null);
  const at = places[Math.min(chosen, places.length - 1)] ?? null;

  useLayoutEffect(() => {
    const element = canvas.current;
    if (element === null || image === null) return;
    const ratio = Math.min(1, (2 * element.clientWidth) / image.width);
    element.width = Math.max(1, Math.round(image.width * ratio));
    element.height = Math.max(1, Math.round(image.height * ratio));
    const context = element.getContext('2d');
    if (context === null) return;
    context.fillStyle = '#ffffff';
    context.fillRect(0, 0, element.width, element.height);
    context.drawImage(image, 0, 0, element.width, element.height);
  }, [image]);
  useEffect(() => {
    const context = glass.current?.getContext('2d') ?? null;
    if (context === null || image === null || size === null || at === null) return;
    const shrunk = image.width / size.width;
    const half = GLASS.side / 2;
    context.fillStyle = '#ffffff';
    context.fillRect(0, 0, GLASS.side, GLASS.side);
    context.imageSmoothingEnabled = false;
    const scale = GLASS.times / shrunk;
    context.drawImage(
      image,
      half - at.x * GLASS.times,
      half - at.y * GLASS.times,
      image.width * scale,
      image.height * scale,
    );
    for (const [width, colour] of [
      [3, '#ffffff'],
      [1, '#000000'],
    ] as const) {
      context.lineWidth = width;
      context.strokeStyle = colour;
      context.beginPath();
      context.moveTo(half, 0);
      context.lineTo(half, GLASS.side);
      context.moveTo(0, half);
      context.lineTo(GLASS.side, half);
      context.stroke();
    }
  }, [image, size, at?.x, at?.y]);

  const put = (index: number, place: Point): void => {
    if (size === null) return;
    const bounded = {
      x: Math.min(size.width, Math.max(0, place.x)),
      y: Math.min(size.height, Math.max(0, place.y)),
    };
    onPlaces(index < places.length ? places.map((one, k) => (k === index ? bounded : one)) : [...places, bounded]);
    setChosen(Math.min(index, places.length));
  };
  const press = (event: MouseEvent): void => {
    const box = canvas.current?.getBoundingClientRect();
    if (box === undefined || size === null) return;
    const place = {
      x: ((event.clientX - box.left) / box.width) * size.width,
      y: ((event.clientY - box.top) / box.height) * size.height,
    };
    put(places.length < names.length ? places.length : chosen, place);
  };
  const onKeyDown = (event: KeyboardEvent, index: number): void => {
    const by = event.shiftKey ? NUDGE.large : NUDGE.small;
    const step: Record<string, readonly [number, number]> = {
      ArrowLeft: [-by, 0],
      ArrowRight: [by, 0],
      ArrowUp: [0, -by],
      ArrowDown: [0, by],
    };
    const [dx, dy] = step[event.key] ?? [0, 0];
    if (dx === 0 && dy === 0) return;
    event.preventDefault();
    put(index, { x: places[index].x + dx, y: places[index].y + dy });
  };
  if (fault !== null) return <p role="alert">{fault}</p>;
  const next = places.length < names.length ? names[places.length] : null;
  return (
    <div class="picture-places">
      <p class="picture-places-say" role="status">
        {next === null
          ? 'All places are set. Press the picture, or use the arrow keys, to move the chosen one.'
          : `Press on the picture: ${next}.`}
      </p>
      <div class="picture-places-row">
        <div class="picture-places-picture">
          <canvas ref={canvas} role="img" aria-label="The picture, to point places out on." onClick={press} />
          <div ref={marks}>
            {size !== null &&
              places.map((place, k) => (
                <button
                  key={names[k]}
                  type="button"
                  class="place-mark"
                  aria-pressed={k === chosen}
                  aria-label={`${k + 1}, ${names[k]}: ${Math.round(place.x)}, ${Math.round(place.y)} px; arrow keys move it`}
                  style={{ left: `${(100 * place.x) / size.width}%`, top: `${(100 * place.y) / size.height}%` }}
                  onFocus={() => setChosen(k)}
                  onKeyDown={(event) => onKeyDown(event, k)}
                >
                  {k + 1}
                </button>
              ))}
          </div>
        </div>
        <div class="picture-places-tools">
          {at !== null && (
            <canvas
              ref={glass}
              class="place-glass"
              role="img"
              aria-label="The chosen place, enlarged."
              width={GLASS.side}
              height={GLASS.side}
            />
          )}
          {next !== null && size !== null && (
            <button
              type="button"
              onClick={() => {
                put(places.length, { x: size.width / 2, y: size.height / 2 });
                // Once it is there.
                setTimeout(() => marks.current?.querySelector<HTMLElement>('button:last-child')?.focus());
              }}
            >
              Begin in the middle, and move by arrow keys
            </button>
          )}
          {places.length > 0 && (
            <button type="button" onClick={() => onPlaces([])}>
              Point out anew
            </button>
          )}
        </div>
      </div>
    </div>
  );
}

interface Shown {
  readonly image: ImageBitmap | null;
  /** Of the picture at its full size, px. */
  readonly size: { readonly width: number; readonly height: number } | null;
  readonly fault: string | null;
}

function useImage({ bytes }: ArtworkFile): Shown {
  const [shown, setShown] = useState<Shown>({ image: null, size: null, fault: null });
  useEffect(() => {
    let gone = false;
    let made: ImageBitmap | null = null;
    const read = async (): Promise<void> => {
      const whole = await createImageBitmap(new Blob([bytes as BlobPart]));
      const size = { width: whole.width, height: whole.height };
      const share = Math.sqrt(SHOWN_PIXELS / (size.width * size.height));
      made = whole;
      if (share < 1) {
        made = await createImageBitmap(whole, { resizeWidth: Math.round(size.width * share), resizeQuality: 'medium' });
        whole.close();
      }
      if (gone) made.close();
      else setShown({ image: made, size, fault: null });
    };
    read().catch(() => {
      if (!gone)
        setShown({
          image: null,
          size: null,
          fault: 'This browser can’t show the picture: give the scale in another way.',
        });
    });
    return () => {
      gone = true;
      made?.close();
    };
  }, [bytes]);
  return shown;
}
