/** What someone is shown who is here for the first time. */
export { welcome } from './first-visit.ts';
export { $tourStep, endTour, startTour, TOUR_STEPS, turnTour, type TourStep } from './tour.ts';
