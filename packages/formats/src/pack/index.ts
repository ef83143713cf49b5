export { makePartFile, makePartFiles } from './part-file.ts';
export { isPrinted, makePackFile, packFileSteps, type Press } from './pack-file.ts';
