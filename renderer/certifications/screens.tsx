export { CertificationScreen } from './certification-screen.tsx'
