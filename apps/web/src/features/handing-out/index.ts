export {
  $orders,
  forgetOrder,
  printedLesson,
  saveKeyFile,
  saveLessonFile,
  savePack,
  stopOrder,
  type Order,
  type OrderedThing,
  type OrderState,
  type PrintedLesson,
} from './orders.ts';
export type { OrderFault } from './order-fault.ts';
