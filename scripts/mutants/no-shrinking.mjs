import fc from 'fast-check';

// A failed property is noticed, and no smaller example of it is looked for.
fc.configureGlobal({ ...fc.readConfigureGlobal(), endOnFailure: true });
