export { makePackFile, type Press } from './pack-file.ts';
