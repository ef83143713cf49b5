import { $settings, changeSettings } from '../../features/settings/index.ts';
import { OneOf } from '../controls/OneOf.tsx';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';

/** One way or a free hand: one switch, at once. */
export function Ways() {
  const { way } = useStore($settings);
  return (
    <OneOf
      label={words.play.ways}
      choices={['one way', 'free hand']}
      textOf={(each) => words.play.way[each]}
      value={way}
      onChange={(each) => changeSettings({ way: each })}
    />
  );
}
