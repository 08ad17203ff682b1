import { serveNode } from './nodeServer.ts'

serveNode()
