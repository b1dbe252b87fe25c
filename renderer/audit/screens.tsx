export { AuditScreen } from './audit-screen.tsx'
