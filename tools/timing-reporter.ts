/** Where the time of a test run goes: its slowest files, so that whoever adds a check sees what it costs. */
import type { Reporter, TestModule } from 'vitest/node';

const SHOWN = 15;

const secondsOf = (module: TestModule): number => {
  const { collectDuration, setupDuration, duration } = module.diagnostic();
  return (collectDuration + setupDuration + duration) / 1000;
};

export default class TimingReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const rows = modules
      .map((module) => ({ name: module.relativeModuleId, project: module.project.name, seconds: secondsOf(module) }))
      .sort((a, b) => b.seconds - a.seconds);
    if (rows.length < 2) return;
    const all = rows.reduce((sum, { seconds }) => sum + seconds, 0);
    const lines = rows
      .slice(0, SHOWN)
      .map(({ name, project, seconds }) => `${seconds.toFixed(1).padStart(7)} s  ${project.padEnd(9)} ${name}`);
    console.log(
      `\nSlowest of ${rows.length} files (${all.toFixed(0)} s in all, files side by side)\n${lines.join('\n')}`,
    );
  }
}
