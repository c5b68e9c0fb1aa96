// The time of a whole check (artwork → cell → openings → joins → sheet → document) against the number of shapes.
import { core } from '../core.mjs';
import { ellipses, exponent, halfDropJob, median } from './artwork.mjs';

export async function checkBench({ quick }) {
  const counts = quick ? [250, 1000] : [1000, 4000, 16000];
  const rows = [];
  for (const overlap of [false, true]) {
    const times = [];
    for (const count of counts) {
      const motif = ellipses(count, { overlap });
      // Sheets of thousands of shapes are larger than a cloth is usually wide.
      const job = halfDropJob(core, { cloth: { width: '2m', length: '2m' } });
      times.push(await median(() => core.checkDocument(core.runJob(motif, job), 'bench.svg'), count > 5000 ? 1 : 3));
    }
    const growth = exponent(counts, times);
    const name = `check, ${counts.join(' / ')} shapes ${overlap ? 'overlapping' : 'apart'}`;
    rows.push([
      name,
      `growth exponent ${growth.toFixed(2)}; ${times.map((t) => `${Math.round(t)} ms`).join(', ')}`,
      'under 1.2',
    ]);
  }
  return rows;
}
