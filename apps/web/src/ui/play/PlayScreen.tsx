import { useEffect } from 'react';
import { $drillPlayed, drillPlayedOf } from '../../features/drill/index.ts';
import { setImmersed } from '../../features/navigation/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import {
  $moment,
  followComputerKeys,
  followHand,
  followKeys,
  $playing,
  leavePlaying,
  listenToPedals,
  playableOf,
  prepareProgramme,
} from '../../features/playing/index.ts';
import { $programme } from '../../features/programme/index.ts';
import { $settings } from '../../features/settings/index.ts';
import { $today, followToday } from '../../features/today/index.ts';
import { connectKnownKeyboard } from '../../features/sound/index.ts';
import { $replay, $takeShown, followRecording, followReplay } from '../../features/takes/index.ts';
import { TakeScreen } from '../takes/TakeScreen.tsx';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { BarePicture } from './BarePicture.tsx';
import { BeforePlaying } from './BeforePlaying.tsx';
import { PlayView } from './PlayView.tsx';

/** At the keyboard: before playing what is to be played, while playing nothing but what the hands need. */
export default function PlayScreen() {
  const open = useStore($open);
  const programme = useStore($programme);
  const drill = useStore($drillPlayed);
  const today = useStore($today);
  const taken = useStore($takeShown);
  const replay = useStore($replay);
  const playing = useStore($playing);
  const moment = useStore($moment);

  // what is ready stays where nothing that is heard has changed
  useEffect(
    () =>
      void prepareProgramme(
        replay !== null && replay.lessonId === open?.id
          ? replay
          : today === null || today.lessonId !== open?.id
            ? playableOf(open, programme, drillPlayedOf(open?.id, drill))
            : playableOf(open, today.programme, today.played),
      ),
    [open, programme, drill, today, replay],
  );
  useEffect(() => {
    void connectKnownKeyboard();
    const ends = [
      listenToPedals(),
      followComputerKeys(),
      followHand(),
      followKeys(),
      followToday(() => $settings.get().keyDelayMs),
      followReplay(),
      followRecording(
        () =>
          $today.get() !== null ||
          $replay.get() !== null ||
          drillPlayedOf($open.get()?.id, $drillPlayed.get()) !== null,
      ),
    ];
    return () => {
      for (const end of ends) end();
      $replay.set(null);
      leavePlaying();
    };
  }, []);

  const isInView =
    playing.kind === 'starting' || playing.kind === 'counting in' || playing.kind === 'playing' || moment !== null;
  useEffect(() => {
    setImmersed(isInView);
    return () => setImmersed(false);
  }, [isInView]);
  return (
    <>
      <h1 className="unseen">{words.play.title}</h1>
      {isInView ? (
        <PlayView />
      ) : taken !== null && taken.lessonId === open?.id ? (
        <TakeScreen record={taken} />
      ) : (
        <BeforePlaying />
      )}
      <BarePicture />
    </>
  );
}
