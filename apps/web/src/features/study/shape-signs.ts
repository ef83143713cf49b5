import { shapeMarks, type ShapeMarks } from '@fivespan/formats/diagram';
import { computed } from 'nanostores';
import { $made } from '../open-lesson/index.ts';

/** The signs that tell the lesson's shapes apart, as on its pages. */
export const $shapeMarks = computed($made, (made): ShapeMarks => (made === null ? new Map() : shapeMarks(made.lesson)));
