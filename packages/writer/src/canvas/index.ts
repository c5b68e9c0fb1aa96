export { type CanvasTarget, drawItems } from './draw-items.js';
