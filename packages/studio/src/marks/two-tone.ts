/** Strokes the present path dark on a lighter one: seen on any colour. */
export function twoTone(context: CanvasRenderingContext2D, dash: readonly number[], width = 1.5): void {
  context.setLineDash([]);
  context.lineWidth = width + Math.min(2, 1.5 * width);
  context.strokeStyle = 'rgb(255 255 255 / 85%)';
  context.stroke();
  context.setLineDash([...dash]);
  context.lineWidth = width;
  context.strokeStyle = '#000000';
  context.stroke();
}

/** A name on a white slip, its middle at a place, px. */
export function drawName(context: CanvasRenderingContext2D, text: string, x: number, y: number, bold = false): void {
  context.font = `${bold ? '700' : '400'} 12px system-ui, sans-serif`;
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  const half = context.measureText(text).width / 2 + 4;
  context.beginPath();
  context.rect(x - half, y - 9, 2 * half, 18);
  context.fillStyle = '#ffffff';
  context.fill();
  context.lineWidth = bold ? 2 : 1;
  context.setLineDash([]);
  context.strokeStyle = '#000000';
  context.stroke();
  context.fillStyle = '#000000';
  context.fillText(text, x, y + 0.5);
}
