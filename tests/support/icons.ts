import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { Motif } from '@okuri/core';
import { readSvg } from '@okuri/reader';

// Icons of open sets as motifs: 120 mm large on a unit of 160 mm.

const require = createRequire(import.meta.url);

/** One open set of icons, and which of its files are taken. */
export interface IconSet {
  readonly package: string;
  readonly version: string;
  readonly licence: string;
  readonly folder: string;
  /** Every how many-th file in the order of their names, from which one on. */
  readonly every: number;
  readonly from: number;
  /** Side of their `viewBox`. */
  readonly side: number;
}

export interface Icon {
  readonly name: string;
  readonly svg: string;
  readonly side: number;
}

const ICON_MM = 120;
export const UNIT_MM = 160;

/** The icons of a set. Throws where another version of the set is installed. */
export function iconsOf({ package: name, version, folder, every, from, side }: IconSet): Icon[] {
  const root = dirname(require.resolve(`${name}/package.json`));
  const installed = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).version;
  if (installed !== version) throw new Error(`${name} is ${installed}, expected ${version}`);
  return readdirSync(join(root, folder))
    .filter((file) => file.endsWith('.svg'))
    .sort()
    .filter((_, k) => k % every === from)
    .map((file) => ({ name: file, svg: readFileSync(join(root, folder, file), 'utf8'), side }));
}

/** `apart`: the icon in the middle of the unit; `seams`: with its upper left part on the neighbouring units. */
export type IconPlace = 'apart' | 'seams';

/** An icon as a motif. Its frame is the unit's. */
export function iconMotif({ name, svg, side }: Icon, place: IconPlace): Motif {
  const own = `viewBox="0 0 ${side} ${side}"`;
  if (!svg.includes(own)) throw new Error(`${name} has no ${own}`);
  const mm = side / ICON_MM;
  const margin = (UNIT_MM - ICON_MM) / 2;
  const [left, top] = place === 'apart' ? [-margin, -margin] : [45, 35];
  const window = [left, top, UNIT_MM, UNIT_MM].map((v) => v * mm).join(' ');
  return readSvg(svg.replace(own, `viewBox="${window}"`), { widthMm: UNIT_MM });
}
