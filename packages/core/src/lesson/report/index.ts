export { familiesOf, reportAnalysis } from './analysis-report.ts';
export { chordsAsWritten } from './as-written.ts';
export { reportDrill } from './drill-report.ts';
export { type ChorusReport, reportBass, reportChorus, reportVoicings } from './parts-report.ts';
export { type OwnShapeReport, reportOwnShape } from './own-shape-report.ts';
export { reportPositions } from './positions-report.ts';
export { type RouteReport, reportRoute } from './route-report.ts';
export { type ShapesReport, reportShapes } from './shapes-report.ts';
export { reportTake } from './take-report.ts';
