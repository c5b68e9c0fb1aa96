import jobText from '../../../../fixtures/demo/demo.okuri.json?raw';
import motif from '../../../../fixtures/demo/motif.svg?raw';
import type { Project } from './project';

/** The job that the window opens with where nothing was dropped yet. */
export function demoProject(): Project {
  return { jobText, motif: { name: 'motif.svg', bytes: new TextEncoder().encode(motif) }, fonts: [] };
}
