import { midi } from '@fivespan/core';
import type { KeyboardPicture as Picture } from '@fivespan/formats/diagram';
import { useEffect, useMemo, useRef, useState, type RefObject } from 'react';
import { coverFor, watchNear, type Cover } from '../../features/lesson-list/index.ts';
import { KeyboardPicture } from '../keyboard/KeyboardPicture.tsx';
import { useTheme } from '../shell/use-theme.ts';
import styles from './Cover.module.css';

/** Keys shown beside the hand, in semitones: ten white keys on a cover, fourteen where there is room. */
const SEMITONES = { cover: 16, large: 23 } as const;

/** White keys at which a stretch looks cut cleanly: C and F. */
const CLEAN_STARTS: readonly number[] = [0, 5];
/** Where nothing is known yet, and where no hand is placed: middle C. */
const MIDDLE_C = 60;

function pictureOf(cover: Cover | null, size: keyof typeof SEMITONES): Picture {
  let lowest: number = Math.min(cover?.thumbMidi ?? MIDDLE_C, (size === 'large' && cover?.next?.midi) || Infinity);
  lowest -= 1;
  while (!CLEAN_STARTS.includes(lowest % 12)) lowest--;
  return {
    lowest: midi(lowest),
    highest: midi(lowest + SEMITONES[size]),
    hand: cover,
    otherThumbs: [],
    next:
      size === 'large' && cover?.next != null && Math.abs(cover.next.midi - lowest) <= SEMITONES.large
        ? cover.next
        : null,
    degrees: [],
  };
}

/** A lesson's cover, computed when its place comes into sight; undefined until then. */
export function useCover(document: string): {
  readonly place: RefObject<HTMLDivElement | null>;
  readonly cover: Cover | null | undefined;
} {
  const place = useRef<HTMLDivElement>(null);
  const [isNear, setNear] = useState(false);
  const [cover, setCover] = useState<Cover | null | undefined>(undefined);
  useEffect(() => (place.current === null ? undefined : watchNear(place.current, setNear)), []);
  useEffect(() => {
    if (!isNear) return undefined;
    let isOver = false;
    void coverFor(document).then((found) => {
      if (!isOver) setCover(found);
    });
    return () => {
      isOver = true;
    };
  }, [document, isNear]);
  return { place, cover };
}

/** Where the hand begins in a lesson. Its words are beside it: nobody hears it. */
export function CoverPicture({
  of: { place, cover },
  size,
}: {
  readonly of: ReturnType<typeof useCover>;
  readonly size: 'cover' | 'large';
}) {
  const theme = useTheme();
  const picture = useMemo(() => pictureOf(cover ?? null, size), [cover, size]);
  const isComing = cover === undefined || undefined;
  return (
    <div ref={place} className={styles.picture} data-size={size} data-coming={isComing} aria-hidden="true">
      <KeyboardPicture picture={picture} theme={theme} />
    </div>
  );
}
