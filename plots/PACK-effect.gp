# gnuplot PACK-effect.gp draws PACK-effect.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 472
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'PACK-effect'
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
10 9.73 15.88 NaN 28.88 9.73 28.88 3.97 7.00 NaN 14.72 3.97 14.72 -8.06 -12.41 NaN -20.13 -20.13 -8.06 -0.86 -1.49 NaN -3.04 -3.04 -0.86 3.38 5.89 NaN 12.18 3.38 12.18
9 10.12 16.53 NaN 30.08 10.12 30.08 3.20 5.81 NaN 12.84 3.20 12.84 -8.29 -12.78 NaN -20.81 -20.81 -8.29 -0.59 -1.04 NaN -2.19 -2.19 -0.59 2.61 4.61 NaN 9.79 2.61 9.79
8 10.65 17.41 NaN 31.74 10.65 31.74 1.41 2.86 NaN 7.37 1.41 7.37 -8.42 -12.97 NaN -21.10 -21.10 -8.42 -0.22 -0.42 NaN -0.97 -0.97 -0.22 1.42 2.65 NaN 6.12 1.42 6.12
7 10.75 17.57 NaN 32.05 10.75 32.05 -0.73 -0.67 NaN 0.76 -0.73 0.76 -8.61 -13.25 NaN -21.47 -21.47 -8.61 -0.03 -0.10 NaN -0.34 -0.34 -0.03 0.32 0.84 NaN 2.69 0.32 2.69
6 10.45 17.08 NaN 31.11 10.45 31.11 0.28 1.02 NaN 4.03 0.28 4.03 -8.67 -13.34 NaN -21.64 -21.64 -8.67 -0.16 -0.32 NaN -0.84 -0.84 -0.16 0.96 1.94 NaN 4.92 0.96 4.92
5 10.91 17.84 NaN 32.55 10.91 32.55 -1.35 -1.70 NaN -1.18 -1.70 -1.18 -8.75 -13.45 NaN -21.75 -21.75 -8.75 0.04 0.02 NaN -0.11 -0.11 0.04 -0.25 -0.05 NaN 1.15 -0.25 1.15
4 10.46 17.10 NaN 31.17 10.46 31.17 -2.29 -3.30 NaN -4.39 -4.39 -2.29 -8.68 -13.35 NaN -21.61 -21.61 -8.68 0.13 0.17 NaN 0.19 0.13 0.19 -1.25 -1.64 NaN -1.62 -1.64 -1.25
3 10.63 17.37 NaN 31.68 10.63 31.68 1.05 2.50 NaN 7.61 1.05 7.61 -7.91 -12.14 NaN -19.54 -19.54 -7.91 -0.09 -0.21 NaN -0.64 -0.64 -0.09 1.06 2.32 NaN 6.50 1.06 6.50
2 -3.64 2.41 NaN 15.26 -3.64 15.26 0.58 0.96 NaN 2.96 0.58 2.96 -16.83 -21.05 NaN -28.55 -28.55 -16.83 0.19 0.06 NaN -0.30 -0.30 0.19 9.98 10.87 NaN 13.44 9.98 13.44
1 -5.14 0.81 NaN 13.46 -5.14 13.46 0.47 0.42 NaN 1.48 0.42 1.48 -16.87 -21.09 NaN -28.61 -28.61 -16.87 0.15 0.06 NaN -0.20 -0.20 0.15 9.84 10.56 NaN 12.70 9.84 12.70
EOD
set multiplot title 'Feeder PACK: change from the same load at rated volts' font ',14'
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
set ytics nomirror out ('CV-1' 10, 'CV-2' 9, 'CV-3' 8, 'CV-4' 7, 'CV-5' 6, 'CV-6' 5, 'FAN-1' 4, 'FAN-2' 3, 'SORT-1' 2, 'SORT-2' 1)
set yrange [0.3:10.7]
set lmargin at screen 0.075; set rmargin at screen 0.240
set xlabel 'Starting torque, %'
set xrange [-9.67:37.07]
set xtics 10.0 nomirror out
plot $motors using 6:1:($7-$6):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 2:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 3:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 5:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.260; set rmargin at screen 0.425
set xlabel 'Running amps, %'
set xrange [-6.68:17.01]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 12:1:($13-$12):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 8:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 9:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 11:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.445; set rmargin at screen 0.610
set xlabel 'Slip, %'
set xrange [-32.04:3.43]
set xtics 10.0 nomirror out
unset ytics
plot $motors using 18:1:($19-$18):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 14:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 15:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 17:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.630; set rmargin at screen 0.795
set xlabel 'Efficiency, points'
set xrange [-3.43:0.58]
set xtics 1.0 nomirror out
unset ytics
plot $motors using 24:1:($25-$24):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 20:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 21:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 23:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.815; set rmargin at screen 0.980
set xlabel 'Winding rise, K'
set xrange [-3.45:15.24]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 30:1:($31-$30):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 26:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 27:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 29:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
unset multiplot
unset output
