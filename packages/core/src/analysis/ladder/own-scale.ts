import { formatDegree, semitonesOf, stepOf, type Chord, type Degree, type ScaleKind } from '../../theory/index.ts';

const sounds = (degrees: readonly Degree[], value: Degree): boolean =>
  degrees.some((each) => semitonesOf(each) === semitonesOf(value));

/**
 * A scale for a chord no table holds: the function's scale with the chord's own notes in the place of what they alter.
 * Named as musicians name such scales: the scale, then what is altered.
 * @example ownScaleKind(chord('C7(9,#11,b13)'), SCALE_KINDS.lydianFlat7).name // → 'Lydian b7 b13'
 */
export function ownScaleKind(chord: Chord, base: ScaleKind): ScaleKind {
  const added = chord.degrees.filter((each) => !sounds(base.degrees, each));
  const kept = base.degrees.filter(
    (each) => sounds(chord.degrees, each) || !added.some((own) => stepOf(own) === stepOf(each)),
  );
  const degrees = [...kept, ...added].sort((a, b) => semitonesOf(a) - semitonesOf(b));
  const names = added.map((each) => formatDegree(each, stepOf(each) === 6 ? 'octave' : 'extension'));
  return {
    id: [base.id, ...names.map((each) => each.replaceAll('#', 's'))].join('-'),
    name: [base.name, ...names].join(' '),
    degrees,
    family: 'own',
    mode: null,
    passing: null,
  };
}
