import { it } from 'vitest';
import { circleContour, reverseContour } from '../packages/core/src/geometry/contour.js';
import { findIslands } from '../packages/core/src/paper/islands.js';
it('bench', () => {
  for (const kind of ['warm', 'rings', 'net']) for (const n of kind === 'warm' ? [32] : [32, 64, 128]) {
    const outlines: any[] = kind === 'net' ? [{ contour: circleContour({ x: 5 * n, y: 5 * n }, 8 * n), opening: 0 }] : [];
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) {
      const at = { x: 10 * i, y: 10 * j };
      if (kind !== 'net') outlines.push({ contour: circleContour(at, 4), opening: i * n + j });
      outlines.push({ contour: reverseContour(circleContour(at, 3)), opening: 0 });
    }
    const c = process.cpuUsage();
    const k = findIslands({ edge: { x0: 0, y0: 0, x1: 1, y1: 1 }, outlines }).length;
    const u = process.cpuUsage(c);
    console.log(`${kind} ${n * n} ${k} cpu ${((u.user + u.system) / 1000).toFixed(0)}`);
  }
}, 200000);
