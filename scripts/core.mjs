// All of the engine that scripts work with: its public face, and what the project's own packages use besides.
import * as face from '../packages/core/dist/index.js';
import * as inside from '../packages/core/dist/inside.js';

export const core = { ...face, ...inside };
