export { canBeOffline, loadAnew, lookForNewVersion, startService, takeNewVersion } from './service.ts';
export { builtFiles, dropStrangers, keepFile, keptFiles, type BuiltFile } from './kept-files.ts';
