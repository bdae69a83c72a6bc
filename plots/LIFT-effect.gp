# gnuplot LIFT-effect.gp draws LIFT-effect.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 340
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'LIFT-effect'
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,14' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# row; then for each panel low, nominal, measured, high, least, greatest
$motors << EOD
6 21.46 29.09 31.88 44.29 21.46 44.29 -4.39 -5.24 -5.47 -5.97 -5.97 -4.39 -16.80 -21.35 -22.88 -28.93 -28.93 -16.80 0.28 0.31 0.31 0.27 0.27 0.31 -3.87 -4.73 -4.81 -5.81 -5.81 -3.87
5 21.46 29.09 31.88 44.29 21.46 44.29 -4.39 -5.24 -5.47 -5.97 -5.97 -4.39 -16.80 -21.35 -22.88 -28.93 -28.93 -16.80 0.28 0.31 0.31 0.27 0.27 0.31 -3.87 -4.73 -4.81 -5.81 -5.81 -3.87
4 9.79 16.77 19.32 30.68 9.79 30.68 -2.04 -3.00 -3.25 -3.79 -3.79 -2.04 -8.24 -13.21 -14.87 -21.43 -21.43 -8.24 0.09 0.12 0.12 0.11 0.09 0.12 -3.49 -5.31 -5.49 -7.54 -7.54 -3.49
3 9.79 16.77 19.32 30.68 9.79 30.68 -2.04 -3.00 -3.25 -3.79 -3.79 -2.04 -8.24 -13.21 -14.87 -21.43 -21.43 -8.24 0.09 0.12 0.12 0.11 0.09 0.12 -3.49 -5.31 -5.49 -7.54 -7.54 -3.49
2 21.02 28.47 31.20 43.32 21.02 43.32 1.97 3.79 4.60 9.24 1.97 9.24 -16.09 -20.49 -21.97 -27.83 -27.83 -16.09 -0.51 -0.87 -1.03 -1.87 -1.87 -0.51 -0.08 0.63 1.20 3.31 -0.08 3.31
1 22.05 29.89 32.76 45.54 22.05 45.54 -0.66 0.05 0.43 2.83 -0.66 2.83 -15.95 -20.22 -21.65 -27.25 -27.25 -15.95 0.20 0.13 0.08 -0.22 -0.22 0.20 -4.88 -5.63 -5.49 -5.83 -5.83 -4.88
EOD
set multiplot title 'Feeder LIFT: change from the same load at rated volts' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
plot NaN with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' title 'low case', \
  NaN with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' title 'nominal case', \
  NaN with points pt 13 ps 1.3 lw 2 lc rgb '#7b2d8e' title 'measured case', \
  NaN with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' title 'high case'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set tmargin at screen 1 - 90.0/tall; set bmargin at screen 60.0/tall
set grid lc rgb '#d5d5d5'
set arrow 1 from 0, graph 0 to 0, graph 1 nohead lw 1.5 lc rgb '#7a7a7a'
set ytics nomirror out ('LP-1' 6, 'LP-2' 5, 'LP-3' 4, 'LP-4' 3, 'PRIME' 2, 'HOIST' 1)
set yrange [0.3:6.7]
set lmargin at screen 0.150; set rmargin at screen 0.300
set xlabel 'Starting torque, %'
set xrange [-5.46:51.00]
set xtics 20.0 nomirror out
plot $motors using 6:1:($7-$6):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 2:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 3:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 4:1 with points pt 13 ps 1.3 lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 5:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.320; set rmargin at screen 0.470
set xlabel 'Running amps, %'
set xrange [-7.80:11.06]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 12:1:($13-$12):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 8:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 9:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 10:1 with points pt 13 ps 1.3 lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 11:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.490; set rmargin at screen 0.640
set xlabel 'Slip, %'
set xrange [-32.40:3.47]
set xtics 10.0 nomirror out
unset ytics
plot $motors using 18:1:($19-$18):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 14:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 15:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 16:1 with points pt 13 ps 1.3 lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 17:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.660; set rmargin at screen 0.810
set xlabel 'Efficiency, points'
set xrange [-2.13:0.57]
set xtics 1.0 nomirror out
unset ytics
plot $motors using 24:1:($25-$24):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 20:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 21:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 22:1 with points pt 13 ps 1.3 lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 23:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.830; set rmargin at screen 0.980
set xlabel 'Winding rise, K'
set xrange [-8.84:4.61]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 30:1:($31-$30):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 26:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 27:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 28:1 with points pt 13 ps 1.3 lw 2 lc rgb '#7b2d8e' notitle, \
  $motors using 29:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
unset multiplot
unset output
