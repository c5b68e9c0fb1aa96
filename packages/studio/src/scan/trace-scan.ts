import { InputError, inVoice, type Motif, type Point } from '@okuri/core';
import { MM_PER_INCH } from '@okuri/core/inside';
import { framePicture, motifFromTrace, type ScaleRequest, traceImage } from '@okuri/scan';
import type { PictureScan } from './decode-picture';
import type { ScanScale, ScanSettings } from './settings';

/** What a person is told of how a scan was read. */
export interface ScanFacts {
  /** Of the file, px. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** Where the scale is from, in words. */
  readonly scale: string;
  readonly specks: number;
  readonly pinholes: number;
}

/** A scan as a motif. `widthMm`: that of the job's unit, which gives the scale where neither the person nor the file does. */
export function traceScan(
  picture: PictureScan,
  settings: ScanSettings,
  { widthMm, progress }: { readonly widthMm: number | null; readonly progress?: (share: number) => void },
): { readonly motif: Motif; readonly facts: ScanFacts } {
  return naming(picture.name, () => {
    const { image } = picture;
    const framed = framePicture(image, scaleRequest(picture, settings.scale, widthMm));
    const { specksMm2: speckMm2, pinholesMm2: pinholeMm2, inkShift: offset, smooth } = settings;
    const trace = traceImage(image, framed.scale, {
      speckMm2,
      pinholeMm2,
      offset,
      smooth,
      ...(framed.region === null ? {} : { region: framed.region }),
      ...(progress === undefined ? {} : { progress }),
    });
    const motif = motifFromTrace(trace, framed, { speckMm2, pinholeMm2, remarks: picture.remarks });
    const { width: widthPx, height: heightPx } = picture.sides;
    return {
      motif,
      facts: {
        widthPx,
        heightPx,
        scale: framed.scale.words,
        specks: trace.specks.count,
        pinholes: trace.pinholes.count,
      },
    };
  });
}

/** The scale on the picture as it was kept, which may have been reduced. */
export function scaleRequest(
  { image, factor, sides, resolution }: Pick<PictureScan, 'image' | 'factor' | 'sides' | 'resolution'>,
  scale: ScanScale | null,
  widthMm: number | null,
): ScaleRequest {
  const kept = ({ x, y }: Point): Point => ({ x: x / factor, y: y / factor });
  if (scale === null) {
    if (resolution !== null) {
      const [across, down] = [resolution.across, resolution.down].map((perMm) => (perMm * MM_PER_INCH) / factor);
      return { from: 'file', resolution: { across, down, unit: 'inch' } };
    }
    if (widthMm === null) throw new InputError('It states no resolution: say its scale.');
    // As the command does it, which knows the kept picture alone.
    return byWidth(image.width, widthMm);
  }
  switch (scale.from) {
    case 'resolution': {
      const perInch = scale.dpi / factor;
      return { from: 'resolution', resolution: { across: perInch, down: perInch, unit: 'inch' } };
    }
    case 'width':
      return byWidth(sides.width / factor, scale.widthMm);
    case 'dots':
      return scale;
    case 'points':
    case 'ruler':
      return { ...scale, points: scale.points.map(kept) };
  }
}

function byWidth(px: number, widthMm: number): ScaleRequest {
  const perMm = px / widthMm;
  return { from: 'resolution', resolution: { across: perMm, down: perMm, unit: 'mm' } };
}

function naming<T>(name: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof InputError) throw new InputError(`${name}: ${inVoice(error, 'window')}`);
    throw error;
  }
}
