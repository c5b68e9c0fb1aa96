export type { Streams } from './progress.js';
export { runCommand } from './run-command.js';
