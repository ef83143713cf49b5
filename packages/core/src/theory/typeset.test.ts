import { expect, test } from 'vitest';
import { typeset } from './typeset.ts';

test.each([
  ['Bb7(b9,#11)', 'B♭7(♭9,♯11)'],
  ['Fm7b5', 'Fm7♭5'],
  ['Bbm7 Ebmaj7 Abb Gbdim7 Dbsus', 'B♭m7 E♭maj7 A𝄫 G♭dim7 D♭sus'],
  ['subV7/IV bVII7 #ivdim7 bbVII', 'subV7/IV ♭VII7 ♯ivdim7 𝄫VII'],
  ['F## C##dim7 bb7', 'F𝄪 C𝄪dim7 𝄫7'],
  ['Eb major, Lydian b7, Mixolydian b9 b13', 'E♭ major, Lydian ♭7, Mixolydian ♭9 ♭13'],
  ['C7/Bb Bb/Ab', 'C7/B♭ B♭/A♭'],
  ['Above a bebop line', 'Above a bebop line'],
])('%s is printed as %s', (ascii, printed) => expect(typeset(ascii)).toBe(printed));
