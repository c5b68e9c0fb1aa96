import { InputError } from '@okuri/core';
import { expect, it } from 'vitest';
import { openFiles } from './open-files';
import type { Project } from './project';

const bytes = (text: string) => new TextEncoder().encode(text);
const file = (name: string, text = '<svg/>') => ({ name, bytes: bytes(text) });
const now: Project = { jobText: '{ "okuri": 1, "motif": "old.svg" }', motif: file('old.svg'), fonts: [] };

it('makes a straight repeat of a drawing, and asks about it', () => {
  const { project, isNew } = openFiles([file('leaf.svg')], now);
  expect(isNew).toBe(true);
  expect(JSON.parse(project.jobText)).toEqual({ okuri: 1, title: 'leaf', motif: 'leaf.svg', repeat: 'straight' });
});

it('opens a job with the drawing it names, dropped beside it or at hand', () => {
  const job = file('leaf.okuri.json', '{ "okuri": 1, "motif": "art/leaf.svg", "repeat": "brick" }');
  expect(openFiles([job, file('leaf.svg')], now).project.motif.name).toBe('leaf.svg');
  const own = file('x.okuri.json', '{ "okuri": 1, "motif": "old.svg" }');
  expect(openFiles([own], now).project.motif).toBe(now.motif);
  expect(() => openFiles([job], now)).toThrow(/drop both files together/);
});

it('takes fonts to the drawing at hand', () => {
  const { project } = openFiles([file('Hand.ttf')], now);
  expect(project.motif).toBe(now.motif);
  expect(JSON.parse(project.jobText).fonts).toEqual(['Hand.ttf']);
});

it.each([
  [[], /No file came along/],
  [[file('notes.docx')], /notes\.docx is nothing that can be opened/],
  [[file('a.okuri.json', '{'), file('leaf.svg')], /a\.okuri\.json/],
  [[file('a.okuri.json', '{ "okuri": 1, "motif": "leaf.svg", "witdh": "3mm" }'), file('leaf.svg')], /witdh/],
  [[file('a.svg'), file('b.svg')], /one at a time/],
  [[{ name: 'b.okuri.json', bytes: new Uint8Array([0xff, 0xfe, 0x00]) }, file('leaf.svg')], /no text file/],
] as const)('refuses %j with a sentence', (files, sentence) => {
  expect(() => openFiles(files, now)).toThrow(InputError);
  expect(() => openFiles(files, now)).toThrow(sentence);
});
