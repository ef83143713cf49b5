import { $heading, writeHeading } from '../../features/chart-editing/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { Place } from './Place.tsx';

const w = words.chart;

/** How many beats stand before the first full bar. */
export function PickupPlace() {
  const heading = useStore($heading);
  if (heading === null) return null;
  const { pickup, beats } = heading;
  const isNone = pickup === '' || pickup === '0';
  const pickups = Array.from({ length: Math.max(1, beats) }, (_, index) => String(index));
  const text = pickups.includes(pickup) ? w.pickups(Number(pickup)) : pickup;
  return (
    <Place label={w.pickup} isSet={!isNone} sign={isNone ? '' : text} word={w.pickupWord}>
      <select
        aria-label={w.pickup}
        value={isNone ? '0' : pickup}
        onChange={({ currentTarget: { value } }) => writeHeading('pickup', value === '0' ? '' : value)}
      >
        {!isNone && !pickups.includes(pickup) && <option value={pickup}>{w.asWritten(pickup)}</option>}
        {pickups.map((each) => (
          <option key={each} value={each}>
            {w.pickups(Number(each))}
          </option>
        ))}
      </select>
    </Place>
  );
}
