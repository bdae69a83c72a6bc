# gnuplot COLD-band.gp draws COLD-band.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1000; tall = 363
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'COLD-band'
if (exists('beside')) name = name.beside   # until it is whole
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,12' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
mark = picture eq 'svg' || picture eq 'pdf' ? 0.65 : 1.0   # these two draw points larger
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# row, band from, to, low, high, nominal, measured, pair from, to, inside from, to, below from, to, above from, to: % of plate volts
$motors << EOD
6 90.00 110.00 98.19 110.73 101.39 NaN NaN NaN 98.19 110.00 NaN NaN 110.00 110.73
5 90.00 110.00 98.18 111.44 101.39 NaN NaN NaN 98.18 110.00 NaN NaN 110.00 111.44
4 90.00 110.00 98.25 112.12 101.45 NaN NaN NaN 98.25 110.00 NaN NaN 110.00 112.12
3 90.00 110.00 98.42 112.26 101.59 NaN NaN NaN 98.42 110.00 NaN NaN 110.00 112.26
2 90.00 110.00 98.42 112.25 101.59 NaN NaN NaN 98.42 110.00 NaN NaN 110.00 112.25
1 90.00 110.00 98.42 112.27 101.59 NaN NaN NaN 98.42 110.00 NaN NaN 110.00 112.27
EOD
set title 'Feeder COLD: volts at each motor against its plate' font ',14'
set xlabel 'Volts at the terminals, % of plate volts'
set yrange [0.3:6.7]
set rmargin 10
set bmargin at screen 118.0/tall
set key at screen 0.5, screen 12.0/tall center bottom horizontal width 1
set grid xtics lc rgb '#d5d5d5'
set arrow 1 from 100, graph 0 to 100, graph 1 nohead front dt 2 lc rgb '#7a7a7a'
set xrange [86:116]
set xtics 5
set ytics ('CP-1  460 V' 6, 'CP-2  460 V' 5, 'EVAP-1  460 V' 4, 'EVAP-2  460 V' 3, 'EVAP-3  460 V' 2, 'EVAP-4  460 V' 1)
set label 7 'band' at graph 1.01, first 6.8 left textcolor rgb '#7a7a7a'
set label 1 'fail' at graph 1.01, first 6 left textcolor rgb '#b91c1c'
set label 2 'fail' at graph 1.01, first 5 left textcolor rgb '#b91c1c'
set label 3 'fail' at graph 1.01, first 4 left textcolor rgb '#b91c1c'
set label 4 'fail' at graph 1.01, first 3 left textcolor rgb '#b91c1c'
set label 5 'fail' at graph 1.01, first 2 left textcolor rgb '#b91c1c'
set label 6 'fail' at graph 1.01, first 1 left textcolor rgb '#b91c1c'
plot $motors using 2:1:2:3:($1-0.42):($1+0.42) with boxxyerror fs solid 1 noborder fc rgb '#dcebd3' title 'band of the plate', \
  $motors using 10:1:($11-$10):(0) with vectors nohead lw 5 lc rgb '#334155' title 'low to high case', \
  $motors using 12:1:($13-$12):(0) with vectors nohead lw 9 lc rgb '#b91c1c' title 'outside the band', \
  $motors using 14:1:($15-$14):(0) with vectors nohead lw 9 lc rgb '#b91c1c' notitle, \
  $motors using 6:1 with points pt 7 ps 1.5*mark lc rgb '#1a1a1a' title 'nominal'
unset output
