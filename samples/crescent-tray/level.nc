(crescent tray: level the cured resin)
(underside up, turned sideways; X0 Y0 at the near-left corner as it lies, Z0 on the wood beside the resin)

G20 G90 G17 G94
T2 M6 (1 in surfacing bit)
M3 (router on, dial at 16000)
G4 P5
G0 Z0.6

(pass 1 of 2: once round the edge, Z-0.01)
G0 X-0.65 Y0.2
G1 Z-0.01 F20
X8.8 F90
Y5.8
X0.2
Y-0.65

(pass 1 of 2: to and fro)
G1 X-0.65
Y0.2
X9.65
Y0.55
X-0.65
Y0.9
X9.65
Y1.25
X-0.65
Y1.6
X9.65
Y1.95
X-0.65
Y2.3
X9.65
Y2.65
X-0.65
Y3
X9.65
Y3.35
X-0.65
Y3.7
X9.65
Y4.05
X-0.65
Y4.4
X9.65
Y4.75
X-0.65
Y5.1
X9.65
Y5.45
X-0.65
Y5.8
X9.65
G0 Z0.2

(pass 2 of 2: once round the edge, Z-0.02)
G0 X-0.65 Y0.2
G1 Z-0.02 F20
X8.8 F90
Y5.8
X0.2
Y-0.65

(pass 2 of 2: to and fro)
G1 X-0.65
Y0.2
X9.65
Y0.55
X-0.65
Y0.9
X9.65
Y1.25
X-0.65
Y1.6
X9.65
Y1.95
X-0.65
Y2.3
X9.65
Y2.65
X-0.65
Y3
X9.65
Y3.35
X-0.65
Y3.7
X9.65
Y4.05
X-0.65
Y4.4
X9.65
Y4.75
X-0.65
Y5.1
X9.65
Y5.45
X-0.65
Y5.8
X9.65
G0 Z0.2

(up and off)
G0 Z0.6
M5
M30
