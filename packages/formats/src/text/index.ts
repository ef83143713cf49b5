export { textOfBytes } from './text-of-bytes.ts';
