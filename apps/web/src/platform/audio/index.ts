export { audioOut, soundOf, type AudioOut } from './audio-out.ts';
export { everyFrame } from './every-frame.ts';
export { BANK_URL, fetchBank } from './bank-file.ts';
export type {
  DeckReport,
  LiveRecording,
  PieceSettings,
  PieceWindow,
  SentNote,
  LoopSeconds,
  StretchSeconds,
  WindowDelivery,
} from './messages.ts';
