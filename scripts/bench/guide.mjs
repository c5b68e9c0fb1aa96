// How long the cut guide of a dense sheet takes, and how large it is.

import { fontMetrics, toPdf } from '../../packages/writer/dist/index.js';
import { core } from '../core.mjs';
import { ellipses, halfDropJob, median } from './artwork.mjs';

export async function guideBench({ quick }) {
  const font = fontMetrics();
  const result = core.runJob(ellipses(quick ? 256 : 1024, { overlap: false }), halfDropJob(core, {}));
  let bytes = 0;
  const time = await median(async () => {
    bytes = (await toPdf(core.cutGuideDrawing(result, font))).length;
  }, 3);
  const { openings } = result.sheets[0];
  const figure = `${(time / 1000).toFixed(1)} s, ${(bytes / 1e6).toFixed(1)} MB`;
  return [[`cut guide of ${openings.length} openings, drawn and written`, figure, '5 s, 5 MB']];
}
