export { comp, COMP_DENSITIES, type CompChord, type CompDensity, type CompingOptions } from './comp.ts';
