# gnuplot COLD-effect.gp draws COLD-effect.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 352
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'COLD-effect'
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
6 10.31 16.85 NaN 30.70 10.31 30.70 -3.21 -4.81 NaN -7.17 -7.17 -3.21 -8.96 -13.75 NaN -22.20 -22.20 -8.96 0.11 0.15 NaN 0.19 0.11 0.19 -1.73 -2.40 NaN -2.96 -2.96 -1.73
5 10.13 16.55 NaN 30.14 10.13 30.14 -2.58 -3.76 NaN -5.20 -5.20 -2.58 -8.69 -13.37 NaN -21.64 -21.64 -8.69 0.08 0.10 NaN 0.10 0.08 0.10 -1.07 -1.39 NaN -1.27 -1.39 -1.07
4 10.65 17.41 NaN 31.74 10.65 31.74 0.32 1.01 NaN 3.77 0.32 3.77 -8.25 -12.74 NaN -20.74 -20.74 -8.25 -0.03 -0.10 NaN -0.40 -0.40 -0.03 0.60 1.37 NaN 3.99 0.60 3.99
3 10.65 17.41 NaN 31.74 10.65 31.74 0.66 1.59 NaN 4.87 0.66 4.87 -8.21 -12.67 NaN -20.65 -20.65 -8.21 -0.08 -0.19 NaN -0.55 -0.55 -0.08 0.91 1.86 NaN 4.78 0.91 4.78
2 10.27 16.78 NaN 30.55 10.27 30.55 0.37 1.12 NaN 4.04 0.37 4.04 -8.33 -12.85 NaN -20.92 -20.92 -8.33 -0.07 -0.19 NaN -0.61 -0.61 -0.07 0.88 1.85 NaN 4.96 0.88 4.96
1 9.72 15.87 NaN 28.85 9.72 28.85 1.29 2.60 NaN 6.65 1.29 6.65 -8.06 -12.42 NaN -20.17 -20.17 -8.06 -0.25 -0.50 NaN -1.24 -1.24 -0.25 1.76 3.30 NaN 7.66 1.76 7.66
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
set xrange [-3.81:35.54]
set xtics 10.0 nomirror out
plot $motors using 6:1:($7-$6):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 2:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 3:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 5:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.260; set rmargin at screen 0.425
set xlabel 'Running amps, %'
set xrange [-8.83:8.30]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 12:1:($13-$12):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 8:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 9:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 11:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.445; set rmargin at screen 0.610
set xlabel 'Slip, %'
set xrange [-24.87:2.66]
set xtics 10.0 nomirror out
unset ytics
plot $motors using 18:1:($19-$18):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 14:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 15:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 17:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.630; set rmargin at screen 0.795
set xlabel 'Efficiency, points'
set xrange [-1.41:0.36]
set xtics 0.5 nomirror out
unset ytics
plot $motors using 24:1:($25-$24):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 20:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 21:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 23:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.815; set rmargin at screen 0.980
set xlabel 'Winding rise, K'
set xrange [-4.23:8.94]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 30:1:($31-$30):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 26:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 27:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 29:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
unset multiplot
unset output
