import { Component, type ReactNode } from 'react';
import { noteMishap, saveDiagnostics } from '../../features/diagnostics/index.ts';
import { hrefOf, loadAnew } from '../../features/navigation/index.ts';
import { words } from '../words/index.ts';
import styles from './Fault.module.css';
import { StatePicture } from './StatePicture.tsx';

interface Props {
  readonly children: ReactNode;
}

interface State {
  /** What was thrown, as far as it says; null where nothing was. */
  readonly message: string | null;
}

/** How browsers say that a script or its style could not be had: a screen that never came is not there to be tried again. */
const NOT_LOADED = /dynamically imported module|importing a module script failed|unable to preload/iu;

/** Holds what goes wrong inside a screen there: the frame, the way to other screens and the lesson itself stay. */
export class Fault extends Component<Props, State> {
  override state: State = { message: null };

  static getDerivedStateFromError(error: unknown): State {
    return { message: error instanceof Error ? error.message : '' };
  }

  override componentDidCatch(error: unknown): void {
    noteMishap(error);
  }

  override render(): ReactNode {
    const { message } = this.state;
    if (message === null) return this.props.children;
    const { fault } = words.shell;
    const isMissing = NOT_LOADED.test(message);
    return (
      <div role="alert" className={styles.fault}>
        <StatePicture state={isMissing ? 'offline' : 'stopped'} />
        <h1>{isMissing ? fault.missing : fault.title}</h1>
        <p>{fault.kept}</p>
        {message !== '' && !isMissing && <p className={styles.message}>{message}</p>}
        <p className={styles.ways}>
          <button
            type="button"
            className="main"
            onClick={() => (isMissing ? loadAnew() : this.setState({ message: null }))}
          >
            {fault.again}
          </button>
          <a href={hrefOf({ kind: 'lessons' })}>{words.shell.toLessons}</a>
          <button type="button" className="plain" onClick={() => void saveDiagnostics()}>
            {fault.diagnostics}
          </button>
        </p>
        <p className="soft">{fault.diagnosticsHint}</p>
      </div>
    );
  }
}
