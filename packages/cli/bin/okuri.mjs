#!/usr/bin/env node
// The command's entry stands in the sources, so that it can be linked before anything is built.
import '../dist/main.js';
