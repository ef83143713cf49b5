export { FilmFault, FilmMaker, type FilmAsking } from './film-maker.ts';
export type { FilmOrder, FilmSource, FilmStage, MadeFilm, MadeStill, SceneSpan, StillOrder } from './film-order.ts';
export { FilmPreview, type PreviewAsked } from './film-preview.ts';
export { followFile, followKept, marksFault, takeSource, type Following, type TakeFollowed } from './follow-take.ts';
export { $voices, showVoices, takeVoice, type VoiceTaken } from './voice-sources.ts';
