import { InputError, inVoice } from '@okuri/core';
import { scanSource, statedDpi } from '../scan/scan-source';
import type { Studio } from './studio';

/** Asks for the scale of the scan at hand, whatever was told before. */
export function askScale(studio: Studio): void {
  try {
    const source = scanSource(studio.project.motif);
    const { width: widthPx, height: heightPx } = source.sides;
    studio.set({ scaleAsked: { widthPx, heightPx, statedDpi: statedDpi(source), opened: null } });
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    studio.set({ said: inVoice(error, 'window') });
  }
}
