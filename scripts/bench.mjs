// Speed, as ratios within one run: absolute times say more about the machine than about the program. `--quick` takes smaller sizes.
import { checkBench } from './bench/check.mjs';
import { clothBench } from './bench/cloth.mjs';
import { guideBench } from './bench/guide.mjs';
import { paperBench } from './bench/paper.mjs';
import { pdfBench } from './bench/pdf.mjs';
import { stagesBench } from './bench/stages.mjs';
import { studioBench } from './bench/studio.mjs';

const quick = process.argv.includes('--quick');
const rows = [
  ...(await clothBench({ quick })),
  ...(await checkBench({ quick })),
  ...(await paperBench({ quick })),
  ...(await pdfBench({ quick })),
  ...(await guideBench({ quick })),
  ...(await stagesBench({ quick })),
  ...(await studioBench({ quick })),
];
const width = Math.max(...rows.map(([name]) => name.length));
for (const [name, figure, target] of rows)
  console.log(`${name.padEnd(width)}  ${figure}${target ? `   (target ${target})` : ''}`);
