# gnuplot COLD-effect.gp draws COLD-effect.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 340
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'COLD-effect'
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,14' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# row; then for each panel low, nominal, measured, high, least, greatest
$motors << EOD
6 9.84 16.85 NaN 30.83 9.84 30.83 -3.09 -4.81 NaN -7.19 -7.19 -3.09 -8.59 -13.75 NaN -22.28 -22.28 -8.59 0.10 0.15 NaN 0.19 0.10 0.19 -4.32 -6.74 NaN -10.26 -10.26 -4.32
5 9.67 16.55 NaN 30.28 9.67 30.28 -2.48 -3.76 NaN -5.21 -5.21 -2.48 -8.33 -13.37 NaN -21.72 -21.72 -8.33 0.08 0.10 NaN 0.10 0.08 0.10 -3.43 -5.30 NaN -7.84 -7.84 -3.43
4 10.09 17.28 NaN 31.64 10.09 31.64 0.26 0.97 NaN 3.62 0.26 3.62 -7.77 -12.50 NaN -20.38 -20.38 -7.77 -0.02 -0.10 NaN -0.39 -0.39 -0.02 -1.22 -1.51 NaN -0.68 -1.51 -0.68
3 10.09 17.28 NaN 31.64 10.09 31.64 0.59 1.54 NaN 4.70 0.59 4.70 -7.73 -12.43 NaN -20.29 -20.29 -7.73 -0.07 -0.19 NaN -0.54 -0.54 -0.07 -0.81 -0.84 NaN 0.42 -0.84 0.42
2 9.79 16.76 NaN 30.66 9.79 30.66 0.29 1.04 NaN 3.84 0.29 3.84 -7.90 -12.71 NaN -20.73 -20.73 -7.90 -0.06 -0.18 NaN -0.59 -0.59 -0.06 -0.94 -0.98 NaN 0.44 -0.98 0.44
1 9.28 15.88 NaN 29.00 9.28 29.00 1.29 2.78 NaN 7.20 1.29 7.20 -7.88 -12.69 NaN -20.73 -20.73 -7.88 -0.25 -0.53 NaN -1.33 -1.33 -0.25 0.32 1.26 NaN 4.96 0.32 4.96
EOD
set multiplot title 'Feeder COLD: change from the same load at rated volts' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
plot NaN with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' title 'low case', \
  NaN with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' title 'nominal case', \
  NaN with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' title 'high case'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set tmargin at screen 1 - 90.0/tall; set bmargin at screen 60.0/tall
set grid lc rgb '#d5d5d5'
set arrow 1 from 0, graph 0 to 0, graph 1 nohead lw 1.5 lc rgb '#7a7a7a'
set ytics nomirror out ('CP-1' 6, 'CP-2' 5, 'EVAP-1' 4, 'EVAP-2' 3, 'EVAP-3' 2, 'EVAP-4' 1)
set yrange [0.3:6.7]
set lmargin at screen 0.150; set rmargin at screen 0.300
set xlabel 'Starting torque, %'
set xrange [-3.80:35.44]
set xtics 10.0 nomirror out
plot $motors using 6:1:($7-$6):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 2:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 3:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 5:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.320; set rmargin at screen 0.470
set xlabel 'Running amps, %'
set xrange [-8.92:8.92]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 12:1:($13-$12):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 8:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 9:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 11:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.490; set rmargin at screen 0.640
set xlabel 'Slip, %'
set xrange [-24.95:2.67]
set xtics 10.0 nomirror out
unset ytics
plot $motors using 18:1:($19-$18):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 14:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 15:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 17:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.660; set rmargin at screen 0.810
set xlabel 'Efficiency, points'
set xrange [-1.51:0.37]
set xtics 0.5 nomirror out
unset ytics
plot $motors using 24:1:($25-$24):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 20:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 21:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 23:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.830; set rmargin at screen 0.980
set xlabel 'Winding rise, K'
set xrange [-12.09:6.78]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 30:1:($31-$30):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 26:1 with points pt 10 ps 1.3 lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 27:1 with points pt 7 ps 1.3 lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 29:1 with points pt 8 ps 1.3 lw 2 lc rgb '#c2410c' notitle
unset multiplot
unset output
