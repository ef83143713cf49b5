import { $handPart, HAND_PARTS, type LadderView, type Study } from '../../features/study/index.ts';
import { Drawn } from '../controls/Drawn.tsx';
import { OneOf } from '../controls/OneOf.tsx';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { FreeHere } from './FreeHere.tsx';
import { HandHere } from './HandHere.tsx';
import styles from './HandView.module.css';
import { OutsideCurve } from './OutsideCurve.tsx';
import { VoicingPicture } from './VoicingPicture.tsx';
import { WayOfHand } from './WayOfHand.tsx';

/** What the hand does: over the chosen chord, on its way through all of them, and how far outside it may go. */
export function HandView({ study, view }: { readonly study: Study; readonly view: LadderView | null }) {
  const part = useStore($handPart);
  return (
    <>
      <div className={styles.parts}>
        <OneOf
          label={words.study.handParts}
          choices={HAND_PARTS}
          textOf={(each) => words.study.handPart[each]}
          value={part}
          onChange={(each) => $handPart.set(each)}
        />
      </div>
      {part === 'here' &&
        (view === null ? (
          <Drawn picture="rest">
            <p>{words.study.silent}</p>
          </Drawn>
        ) : (
          <HandHere study={study} view={view} />
        ))}
      {part === 'free' && <FreeHere study={study} />}
      {part === 'way' && <WayOfHand />}
      {part === 'voicing' && <VoicingPicture study={study} />}
      {part === 'curve' && <OutsideCurve study={study} />}
    </>
  );
}
