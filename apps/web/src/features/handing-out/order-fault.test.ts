import { expect, test } from 'vitest';
import { AssetMissing } from '../../platform/assets/fetch-bytes.ts';
import { faultOf } from './order-fault.ts';

test('a file of our own that cannot be had means: offline', () => {
  expect(faultOf(new AssetMissing('cannot be fetched (404): ./x.ttf')).kind).toBe('offline');
  // what Chromium, Firefox and Safari say of a script that cannot be loaded (from memory)
  for (const message of [
    'Failed to fetch dynamically imported module: https://host/x.js',
    'error loading dynamically imported module: https://host/x.js',
    'Importing a module script failed.',
    'Failed to fetch',
  ])
    expect(faultOf(new TypeError(message)).kind).toBe('offline');
});

test('what fills the memory is told as that; anything else keeps its words', () => {
  expect(faultOf(new RangeError('Array buffer allocation failed')).kind).toBe('memory');
  expect(faultOf(new RangeError('Invalid typed array length: 9000000000')).kind).toBe('memory');
  expect(faultOf(new Error('libFLAC could not encode'))).toEqual({
    kind: 'other',
    message: 'libFLAC could not encode',
  });
});
