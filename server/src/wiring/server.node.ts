import { join } from 'node:path'
import { carveWithThreads } from './bandThread.ts'
import { serveNode } from './nodeServer.ts'

carveWithThreads(join(__dirname, 'bandThread.cjs'))
serveNode()
