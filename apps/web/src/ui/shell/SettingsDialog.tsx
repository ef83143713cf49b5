import { useEffect, type ReactNode } from 'react';
import { Label, Radio, RadioGroup, Slider, SliderOutput, SliderThumb, SliderTrack } from 'react-aria-components';
import { $offline, countKept, keepEverything, stopKeeping, type Offline } from '../../features/offline/index.ts';
import { $settings, changeSettings, type Settings } from '../../features/settings/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './SettingsDialog.module.css';
import { StatePicture, type PlaceState } from './StatePicture.tsx';

const { preferences, offline } = words.shell;

const megabytes = (bytes: number): string => offline.megabytes(bytes / 1e6);

/** What this browser's user prefers. Every change holds at once. */
export default function SettingsDialog() {
  const settings = useStore($settings);
  return (
    <div className={styles.settings}>
      <Choice
        label={preferences.theme}
        value={settings.theme}
        onChange={(theme) => changeSettings({ theme })}
        options={{ system: preferences.themes.system, light: preferences.themes.light, dark: preferences.themes.dark }}
      />
      <Choice
        label={preferences.noteNames}
        hint={preferences.noteNamesHint}
        value={settings.noteNames}
        onChange={(noteNames) => changeSettings({ noteNames })}
        options={{
          english: <NoteNames language="english" />,
          german: <NoteNames language="german" />,
          'do re mi': <NoteNames language="do re mi" />,
        }}
      />
      <Choice
        label={preferences.paper}
        value={settings.paper}
        onChange={(paper) => changeSettings({ paper })}
        options={{ a4: preferences.papers.a4, letter: preferences.papers.letter }}
      />
      <Slider
        className={styles.slider ?? ''}
        value={Math.round(settings.soundLevel * 100)}
        onChange={(percent) => changeSettings({ soundLevel: percent / 100 })}
        minValue={0}
        maxValue={100}
        step={5}
      >
        <Label className={styles.label ?? ''}>{preferences.loudness}</Label>
        <SliderOutput className={styles.output ?? ''}>{({ state }) => `${state.values[0]} %`}</SliderOutput>
        <SliderTrack className={styles.track ?? ''}>
          <SliderThumb className={styles.thumb ?? ''} />
        </SliderTrack>
        <p className={styles.hint}>{preferences.loudnessHint}</p>
      </Slider>
      <OfflineSection />
    </div>
  );
}

function NoteNames({ language }: { readonly language: Settings['noteNames'] }) {
  return (
    <>
      {preferences.noteLanguageNames[language]} <span className="soft">{preferences.noteLanguages[language]}</span>
    </>
  );
}

interface ChoiceProps<Value extends string> {
  readonly label: string;
  readonly hint?: string;
  readonly value: Value;
  readonly onChange: (value: Value) => void;
  readonly options: Readonly<Record<Value, ReactNode>>;
}

function Choice<Value extends string>({ label, hint, value, onChange, options }: ChoiceProps<Value>) {
  return (
    <RadioGroup className={styles.group ?? ''} value={value} onChange={(chosen) => onChange(chosen as Value)}>
      <Label className={styles.label ?? ''}>{label}</Label>
      {hint !== undefined && <p className={styles.hint}>{hint}</p>}
      <div className={styles.options}>
        {(Object.keys(options) as Value[]).map((each) => (
          <Radio key={each} value={each} className={styles.radio ?? ''}>
            {options[each]}
          </Radio>
        ))}
      </div>
    </RadioGroup>
  );
}

function offlineText(state: Offline): string {
  switch (state.kind) {
    case 'impossible':
      return offline.impossible;
    case 'starting':
      return offline.starting;
    case 'ready':
      return state.keptBytes >= state.allBytes
        ? offline.all(megabytes(state.allBytes))
        : offline.kept(megabytes(state.keptBytes), megabytes(state.allBytes));
    case 'keeping':
      return offline.keeping(megabytes(state.keptBytes), megabytes(state.allBytes));
    case 'failed':
      return offline.failed(megabytes(state.keptBytes), megabytes(state.allBytes));
  }
}

/** What is kept here, as a picture: nothing, on its way, or all a page needs. */
function pictureOf(state: Offline): PlaceState {
  if (state.kind === 'impossible' || state.kind === 'failed') return 'offline';
  return state.kind === 'ready' ? 'nothing' : 'opening';
}

function OfflineSection() {
  const state = useStore($offline);
  useEffect(() => void countKept(), []);
  const isKeeping = state.kind === 'keeping';
  const canKeep = state.kind === 'failed' || (state.kind === 'ready' && state.keptBytes < state.allBytes);
  return (
    <section className={styles.group} aria-labelledby="offline-title">
      <h2 id="offline-title" className={styles.label}>
        {preferences.offline}
      </h2>
      {isKeeping ? (
        <>
          <progress
            className={styles.progress}
            aria-label={offlineText(state)}
            value={state.keptBytes}
            max={state.allBytes}
          />
          <p aria-hidden="true">{offlineText(state)}</p>
        </>
      ) : (
        <div className={styles.offline}>
          <StatePicture state={pictureOf(state)} />
          <p role="status">{offlineText(state)}</p>
        </div>
      )}
      {isKeeping && (
        <button type="button" onClick={stopKeeping}>
          {offline.stop}
        </button>
      )}
      {canKeep && (
        <>
          <button type="button" onClick={() => void keepEverything()}>
            {offline.keepEverything}
          </button>
          <p className={styles.hint}>{offline.hint}</p>
        </>
      )}
    </section>
  );
}
