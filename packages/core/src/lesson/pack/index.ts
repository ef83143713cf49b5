export * from './folder-name.ts';
export * from './pack-file.ts';
export * from './part-file.ts';
