# gnuplot COLD-effect.gp draws COLD-effect.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 352
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'COLD-effect'
if (exists('beside')) name = name.beside   # until it is whole
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,12' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
mark = picture eq 'svg' || picture eq 'pdf' ? 0.65 : 1.0   # these two draw points larger
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# row; then for each panel low, nominal, measured, high, least, greatest
$motors << EOD
6 -4.16 3.27 NaN 26.54 -4.16 26.54 1.57 -1.12 NaN -6.60 -6.60 1.57 4.22 -3.05 NaN -19.87 -19.87 4.22 -0.06 0.04 NaN 0.18 -0.06 0.18 0.97 -0.65 NaN -2.90 -2.90 0.97
5 -4.12 3.21 NaN 27.90 -4.12 27.90 1.32 -0.92 NaN -5.06 -5.06 1.32 4.10 -2.95 NaN -20.41 -20.41 4.10 -0.05 0.03 NaN 0.10 -0.05 0.10 0.67 -0.42 NaN -1.35 -1.35 0.67
4 -4.16 3.50 NaN 31.23 -4.16 31.23 0.14 0.00 NaN 3.64 0.00 3.64 3.71 -2.90 NaN -20.49 -20.49 3.71 -0.02 0.00 NaN -0.39 -0.39 0.00 -0.02 0.11 NaN 3.87 -0.02 3.87
3 -3.76 3.86 NaN 31.60 -3.76 31.60 0.00 0.13 NaN 4.83 0.00 4.83 3.31 -3.16 NaN -20.58 -20.58 3.31 0.00 -0.02 NaN -0.55 -0.55 0.00 -0.15 0.25 NaN 4.75 -0.15 4.75
2 -3.63 3.72 NaN 30.42 -3.63 30.42 0.11 0.02 NaN 4.00 0.02 4.00 3.37 -3.21 NaN -20.85 -20.85 3.37 -0.01 -0.01 NaN -0.61 -0.61 -0.01 -0.11 0.22 NaN 4.92 -0.11 4.92
1 -3.44 3.53 NaN 28.76 -3.44 28.76 -0.22 0.35 NaN 6.61 -0.22 6.61 3.26 -3.11 NaN -20.12 -20.12 3.26 0.05 -0.07 NaN -1.23 -1.23 0.05 -0.42 0.54 NaN 7.63 -0.42 7.63
EOD
set multiplot title 'Feeder COLD: change from the same load at rated volts' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics; unset xlabel; unset ylabel; unset title
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
plot NaN with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' title 'low case', \
  NaN with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' title 'nominal case', \
  NaN with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' title 'high case'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set grid lc rgb '#d5d5d5'
set tmargin at screen 1 - 90.0/tall; set bmargin at screen 72.0/tall
set arrow 1 from 0, graph 0 to 0, graph 1 nohead lw 1.5 lc rgb '#7a7a7a'
set ytics nomirror out ('CP-1' 6, 'CP-2' 5, 'EVAP-1' 4, 'EVAP-2' 3, 'EVAP-3' 2, 'EVAP-4' 1)
set yrange [0.3:6.7]
set lmargin at screen 0.075; set rmargin at screen 0.240
set xlabel 'Starting torque, %'
set xrange [-8.46:35.89]
set xtics 10.0 nomirror out
plot $motors using 6:1:($7-$6):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 2:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 3:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 5:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.260; set rmargin at screen 0.425
set xlabel 'Running amps, %'
set xrange [-8.19:8.20]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 12:1:($13-$12):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 8:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 9:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 11:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.445; set rmargin at screen 0.610
set xlabel 'Slip, %'
set xrange [-23.86:7.23]
set xtics 10.0 nomirror out
unset ytics
plot $motors using 18:1:($19-$18):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 14:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 15:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 17:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.630; set rmargin at screen 0.795
set xlabel 'Efficiency, points'
set xrange [-1.40:0.35]
set xtics 0.5 nomirror out
unset ytics
plot $motors using 24:1:($25-$24):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 20:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 21:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 23:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.815; set rmargin at screen 0.980
set xlabel 'Winding rise, K'
set xrange [-4.17:8.89]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 30:1:($31-$30):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 26:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 27:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 29:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
unset multiplot
unset output
