export { writeMidi } from './midi-file.ts';
