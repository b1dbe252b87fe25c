export { BalanceScreen } from './balance-screen.tsx'
