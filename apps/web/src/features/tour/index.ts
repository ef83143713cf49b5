/** What someone is shown who is here for the first time. */
export { welcome } from './first-visit.ts';
