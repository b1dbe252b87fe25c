export { PlanScreen } from './plan-screen.tsx'
