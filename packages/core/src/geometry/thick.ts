import { EndType, inflatePaths, JoinType } from 'clipper2-ts';
import { type GridPath, ringArea, ringLength } from './grid.js';

/**
 * Whether an area (rings that do not cross, holes turning the other way) is anywhere as thick as `thickness`, in grid units: whether something
 * is left when half of it is taken off all around. Areas that abut are one only where they were united before.
 */
export function isThick(paths: readonly GridPath[], thickness: number): boolean {
  if (paths.length === 0) return false;
  const radius = thickness / 2;
  // An area without a disc of this radius is swept by its outlines as they move inward that far, and those get no longer, but for 2πt around a
  // hole: what is larger has one, and needs no offset.
  const most = radius * paths.reduce((sum, ring) => sum + ringLength(ring), 0) + Math.PI * radius ** 2 * paths.length;
  if (paths.reduce((sum, ring) => sum + ringArea(ring), 0) > most) return true;
  const left = inflatePaths([...paths], -radius, JoinType.Miter, EndType.Polygon);
  return left.length > 0;
}

/** Diameter of the largest disc that fits in an area (rings as above), to within `step`; `most` where it is that or more. Grid units. */
export function thickness(paths: readonly GridPath[], { most, step }: { most: number; step: number }): number {
  if (isThick(paths, most)) return most;
  let [low, high] = [0, most];
  while (high - low > step) {
    const middle = (low + high) / 2;
    if (isThick(paths, middle)) low = middle;
    else high = middle;
  }
  return low;
}
