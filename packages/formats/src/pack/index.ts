export { isPrinted, makePackFile, packFileSteps, type Press } from './pack-file.ts';
