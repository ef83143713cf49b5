/** Every text the application shows, in one place; English. Issues and reasons have their own tables in core. */
export * as words from './tables.ts';
