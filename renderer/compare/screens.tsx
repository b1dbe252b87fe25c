export { CompareScreen } from './compare-screen.tsx'
export { HistoryScreen } from './history-screen.tsx'
