export * from './voicing-form.ts';
export { HIGHEST_VOICING, leadVoicings, LOWEST_VOICING, type Voicing } from './lead-voicings.ts';
