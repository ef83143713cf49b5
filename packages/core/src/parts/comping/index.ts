export { comp, type CompChord, type CompingOptions } from './comp.ts';
