(fern dish: level the glued plug)
(dish blank, underside up, turned sideways; X0 Y0 at the near-left corner as it lies, Z0 on the wood beside the plug)
(in the spindle: 25 mm surfacing bit)

G21 G90 G17 G94
M5 S14000
G4 P4

(pass 1 of 3: once round the edge, Z-0.2)
G0 X-16 Y5
G1 Z-0.2 F400
X235 F2200
Y155
X5
Y-16

(pass 1 of 3: to and fro)
G1 X-16
Y5
X256
Y17.5
X-16
Y30
X256
Y42.5
X-16
Y55
X256
Y67.5
X-16
Y80
X256
Y92.5
X-16
Y105
X256
Y117.5
X-16
Y130
X256
Y142.5
X-16
Y155
X256
G0 Z5

(pass 2 of 3: once round the edge, Z-0.4)
G0 X-16 Y5
G1 Z-0.4 F400
X235 F2200
Y155
X5
Y-16

(pass 2 of 3: to and fro)
G1 X-16
Y5
X256
Y17.5
X-16
Y30
X256
Y42.5
X-16
Y55
X256
Y67.5
X-16
Y80
X256
Y92.5
X-16
Y105
X256
Y117.5
X-16
Y130
X256
Y142.5
X-16
Y155
X256
G0 Z5

(pass 3 of 3: once round the edge, Z-0.6)
G0 X-16 Y5
G1 Z-0.6 F400
X235 F2200
Y155
X5
Y-16

(pass 3 of 3: to and fro)
G1 X-16
Y5
X256
Y17.5
X-16
Y30
X256
Y42.5
X-16
Y55
X256
Y67.5
X-16
Y80
X256
Y92.5
X-16
Y105
X256
Y117.5
X-16
Y130
X256
Y142.5
X-16
Y155
X256
G0 Z5

(up and off)
G0 Z15
M5
M30
