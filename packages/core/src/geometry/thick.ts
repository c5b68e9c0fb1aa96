import { EndType, inflatePaths, JoinType } from 'clipper2-ts';
import type { GridPath } from './grid.js';

/**
 * Whether an area (rings that do not cross, holes turning the other way) is anywhere as thick as `thickness`, in grid units: whether something
 * is left when half of it is taken off all around.
 */
export function isThick(paths: readonly GridPath[], thickness: number): boolean {
  if (paths.length === 0) return false;
  const left = inflatePaths([...paths], -thickness / 2, JoinType.Miter, EndType.Polygon);
  return left.length > 0;
}
