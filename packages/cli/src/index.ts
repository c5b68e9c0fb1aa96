export type { Streams } from './progress.js';
export { runCommand } from './run-command.js';
export { type Answer, type Handed, type HandedFile, studioAnswers } from './studio-files.js';
export { type Served, serveAnswers } from './studio-server.js';
