// How a file of print sheets grows with its pages: the artwork is stored once.

import { fontMetrics, toPdf } from '../../packages/writer/dist/index.js';
import { core } from '../core.mjs';
import { ellipses, halfDropJob } from './artwork.mjs';

export async function pdfBench({ quick }) {
  const motif = ellipses(quick ? 256 : 1024, { overlap: false });
  const font = fontMetrics();
  const size = async (width, paper) => {
    const job = halfDropJob(core, { width, pages: { paper } });
    const result = core.runJob(motif, job);
    const [drawing] = core.printSheetDrawings(result, font);
    return { bytes: (await toPdf(drawing)).length, pages: drawing.pages.length };
  };
  const many = await size('1500mm', 'A4');
  const one = await size('1500mm', '1800mm x 1800mm');
  const ratio = many.bytes / one.bytes;
  const name = `print sheets PDF, ${motif.shapes.length} shapes, ${many.pages} pages against ${one.pages}`;
  const kb = (n) => `${Math.round(n / 1024)} KB`;
  return [[name, `${ratio.toFixed(2)} × the size (${kb(many.bytes)}, ${kb(one.bytes)})`, 'under 2 ×']];
}
