import type { Point, Severity } from '@okuri/core';

/** The shape that stands for a weight (square, triangle, lozenge, disc) as the canvas's present path, `r` px from its middle to its edge. */
export function traceSeverity(context: CanvasRenderingContext2D, severity: Severity, { x, y }: Point, r: number): void {
  context.beginPath();
  if (severity === 'stop') context.rect(x - r, y - r, 2 * r, 2 * r);
  else if (severity === 'note') context.arc(x, y, r, 0, 2 * Math.PI);
  else {
    context.moveTo(x, y - r);
    if (severity === 'fix') {
      context.lineTo(x + r, y + r);
      context.lineTo(x - r, y + r);
    } else {
      context.lineTo(x + r, y);
      context.lineTo(x, y + r);
      context.lineTo(x - r, y);
    }
    context.closePath();
  }
}
