export * from './voicing-kind.ts';
export { voicingForms } from './voicing-form.ts';
export {
  HIGHEST_VOICING,
  leadVoicings,
  LOWEST_VOICING,
  motionBetween,
  pinnedVoicing,
  waysToVoice,
  type LeadingOptions,
  type PinnedKeys,
  type Voicing,
} from './lead-voicings.ts';
export { isClear } from './low-interval.ts';
export { motionOf, voicingNotes, voicingsOf, type VoicingNote, type VoicingSources } from './voicing-notes.ts';
export { voicingFaults } from './voicing-faults.ts';
export { MOST_PINNED_KEYS, pinnedKeysOf, voicingPinIssues, type VoicingPin } from './voicing-pin.ts';
export { wordsOfVoicingForm, wordsOfVoicingReason } from './voicing-words.ts';
