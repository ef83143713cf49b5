/** What a keyboard picture says to those who hear it read. One table for each language; English here. */
export interface DiagramWords {
  readonly keyboard: (lowest: string, highest: string) => string;
  readonly thumbOn: (thumb: string, notes: readonly string[]) => string;
  readonly fingers: (fingers: readonly { readonly finger: number; readonly note: string }[]) => string;
  readonly otherThumbs: (names: readonly string[]) => string;
  readonly nextThumb: (name: string) => string;
  /** Keys held down together, as named notes with their octaves. */
  readonly held: (notes: readonly string[]) => string;
  readonly degrees: (kind: 'chord tone' | 'tension' | 'rubs', labels: readonly string[]) => string;
}

const KIND_WORDS = { 'chord tone': 'Chord tones', tension: 'Tensions', rubs: 'Rub against the chord' } as const;

export const ENGLISH_DIAGRAM_WORDS: DiagramWords = {
  keyboard: (lowest, highest) => `Keyboard from ${lowest} to ${highest}.`,
  thumbOn: (thumb, notes) => `Thumb on ${thumb}: ${notes.join(' ')} under fingers 1 to ${notes.length}.`,
  fingers: (fingers) => fingers.map(({ finger, note }) => `Finger ${finger} on ${note}`).join(', ') + '.',
  otherThumbs: (names) => `Open tabs, the other thumbs: ${names.join(', ')}.`,
  nextThumb: (name) => `Dashed tab, where the thumb goes next: ${name}.`,
  held: (notes) => `Held together: ${notes.join(' ')}.`,
  degrees: (kind, labels) => `${KIND_WORDS[kind]}: ${labels.join(', ')}.`,
};
