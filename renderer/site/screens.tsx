export { SiteScreen } from './site-screen.tsx'
