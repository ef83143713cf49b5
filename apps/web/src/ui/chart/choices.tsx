import { formatKey } from '@fivespan/core';
import { memo } from 'react';
import { keysToChoose } from '../../features/chart-editing/index.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';

/** Time signatures one is likely to want; any other can be written in the text. Common practice. */
export const METERS = ['4/4', '3/4', '2/4', '5/4', '6/4', '7/4', '2/2', '6/8', '7/8', '9/8', '12/8'];

/** All keys by mode, for a list to choose from. */
export const KeyOptions = memo(function KeyOptions() {
  const keyText = useKeyText();
  return (['major', 'minor'] as const).map((mode) => (
    <optgroup key={mode} label={words.chart.modes[mode]}>
      {keysToChoose(mode).map((key) => (
        <option key={formatKey(key)} value={formatKey(key)}>
          {keyText(key)}
        </option>
      ))}
    </optgroup>
  ));
});
