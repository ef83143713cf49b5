import { classOfShape, NAMED_SHAPES, typeset, type Degree, type Shape } from '@fivespan/core';
import { degreeText } from '../diagram/index.ts';
import type { HandoutWords } from './words.ts';

/** Forte's names begin with a digit, the trade's do not: `5-31A`. */
const FORTE = /^\d/u;

function isOwnName(shape: Shape): boolean {
  return NAMED_SHAPES.some((each) => each.id === shape.id);
}

/**
 * What lies under the five fingers, in degrees of what the shape is named after: `3 5 ♭7 1 ♭9` is a dominant flat nine with
 * the thumb on the 3.
 */
function degreesUnderFingers(shape: Shape): readonly Degree[] {
  if (isOwnName(shape)) return shape.degrees;
  const { rotations } = classOfShape(shape);
  const thumb = rotations.findIndex((each) => each.id === shape.id);
  const [lead] = rotations;
  return shape.degrees.map((_, finger) => lead.degrees[(thumb + finger) % 5] as Degree);
}

/** A shape's name and what it puts under the fingers; half steps above the thumb where only Forte has a name for it. */
export function shapeText(shape: Shape, words: HandoutWords): string {
  if (FORTE.test(shape.name)) return words.unnamedShape(shape.steps.slice(1).map(String));
  const degrees = degreesUnderFingers(shape).map((each) => degreeText(each));
  return words.namedShape(typeset(shape.name), degrees.join('\u00A0\u00A0'));
}
