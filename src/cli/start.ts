#!/usr/bin/env node
// The first file of the program, and a small one: it has what follows compiled once and for all, where Node.js can.
import { keepCompiled } from '../node/keep-compiled.js';

keepCompiled();
void import('./main.js').then(({ main }) => main());
