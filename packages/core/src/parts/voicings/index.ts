export { VOICING_KINDS, type VoicingFormName, type VoicingKind, type VoicingStyle } from './voicing-kind.ts';
export { voicingForms } from './voicing-form.ts';
export {
  HIGHEST_VOICING,
  LOWEST_VOICING,
  type Voicing,
  leadVoicings,
  motionBetween,
  waysToVoice,
} from './lead-voicings.ts';
export { type VoicingNote, motionOf, voicingNotes, voicingsOf } from './voicing-notes.ts';
export { voicingFaults } from './voicing-faults.ts';
export { MOST_PINNED_KEYS, type VoicingPin, pinnedKeysOf, voicingPinIssues } from './voicing-pin.ts';
export { wordsOfVoicingForm, wordsOfVoicingReason } from './voicing-words.ts';
export { type VoicingLineFault, voicingLineFaults } from './beside-line.ts';
export { type VoicingEdit, type VoicingFault, editVoicing, ownVoicingFaults, ownVoicingTold } from './own-voicing.ts';
